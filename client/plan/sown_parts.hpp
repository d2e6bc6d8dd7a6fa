// What stands in the trays already.
#pragma once

#include <vector>

#include "client/plan/seed_box.hpp"
#include "client/plan/side_plan.hpp"

namespace takehold::client {

/// Whether a recorded sowing is for that side of a pairing.
bool serves(const SownSeed& sowing, const Pairing& pairing, Side side);

/// The recorded sowings that count for one side of a pairing on that graft day, as parts of it. A
/// sowing for several pairings is divided by what each still wants; one for no pairing in
/// particular serves all that use its variety on that side. Where plants were counted, those stand.
std::vector<PlannedPart> sown_parts(const PlanRequest& request, const SeedBox& box,
                                    const Course& course, const Pairing& pairing, Side side,
                                    Day graft_on);

}  // namespace takehold::client
