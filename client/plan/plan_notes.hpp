// What a grower should know beside the plan's numbers.
#pragma once

#include <vector>

#include "client/plan/pairing_draft.hpp"

namespace takehold::client {

/// The plan's warnings.
std::vector<PlanNote> notes_on(const SeasonPlan& plan, const PlanRequest& request,
                               const std::vector<PairDraft>& pairs, const SeedBox& box);

}  // namespace takehold::client
