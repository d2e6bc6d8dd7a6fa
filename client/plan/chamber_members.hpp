// Which pairings of a plan are grafted together.
#pragma once

#include "client/plan/season_plan.hpp"

namespace takehold::client {

using Members = std::vector<std::size_t>;  ///< pairings of the plan, by their places in it

/// "P3", or its two names.
std::string name_of(const PlannedPairing& pairing);

/// Every pairing that has grafts and a day, in the plan's order. Those that share their stems are
/// matched on one day, so they stand together if `pools_together`.
std::vector<Members> members_of(const SeasonPlan& plan, bool pools_together);

}  // namespace takehold::client
