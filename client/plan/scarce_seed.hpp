// Who gets how much of lots that do not suffice, and what more of them would bring.
#pragma once

#include <vector>

#include "client/plan/pairing_draft.hpp"
#include "client/plan/pool_plan.hpp"
#include "client/plan/root_draft.hpp"

namespace takehold::client {

/// What sharing leads to; empty where no lot is short.
struct ScarceSeed {
  bool is_exact = true;  ///< false: too much for an exact search
  std::vector<SeedPurchase> buy{};
};

/// Cuts `listed` of every draft down to the seed on hand, for the greatest sum of weight times
/// expected finished plants (none counted beyond what is wanted; an own-root plant weighs 1), and
/// works out what the missing seed, and each packet of it, would bring. Gains come from
/// kGainSeasons seasons. Of a pool only its whole rootstock sowing is chosen.
ScarceSeed share_scarce_seed(const PlanBasis& basis, const SeedBox& box,
                             const std::vector<PoolMembers>& pools, std::vector<PairDraft>& pairs,
                             std::vector<RootDraft>& roots);

inline constexpr int kGainSeasons = 256;

}  // namespace takehold::client
