// From drafts to the tables a grower reads.
#pragma once

#include <vector>

#include "client/plan/pairing_draft.hpp"
#include "client/plan/root_draft.hpp"

namespace takehold::client {

PlannedPairing table_of(const PlanRequest& request, const SeedBox& box, const PairDraft& draft);
PlannedOwnRoot table_of(const PlanRequest& request, const SeedBox& box, const RootDraft& draft);

/// Fills plan.sowings from its pairings and own roots: one line a lot, day and side.
void add_sowing_list(SeasonPlan& plan);
/// Fills plan.seeds and plan.buy.
void add_seed_balance(SeasonPlan& plan, const SeedBox& box, const std::vector<PairDraft>& pairs,
                      const std::vector<RootDraft>& roots);

}  // namespace takehold::client
