// From drafts to the tables a grower reads.
#pragma once

#include <vector>

#include "client/plan/pairing_draft.hpp"
#include "client/plan/pool_plan.hpp"
#include "client/plan/root_draft.hpp"

namespace takehold::client {

PlannedPairing table_of(const PlanRequest& request, const SeedBox& box, const PairDraft& draft);
PlannedOwnRoot table_of(const PlanRequest& request, const SeedBox& box, const RootDraft& draft);

SharedSowing table_of(const SeedBox& box, const PoolMembers& members,
                      const std::vector<PairDraft>& drafts);

/// Fills plan.sowings from its pairings and own roots: one line a lot, day and side.
/// Seeds of one line share its cells, whichever pairing they are for.
void add_sowing_list(SeasonPlan& plan, int seeds_per_cell);
/// Fills plan.seeds, and plan.buy with what there is no lot of.
void add_seed_balance(SeasonPlan& plan, const SeedBox& box, const std::vector<PairDraft>& pairs,
                      const std::vector<RootDraft>& roots);

}  // namespace takehold::client
