// Pairings on one rootstock lot and graft day, planned over common stems.
#pragma once

#include <vector>

#include "client/plan/pool_groups.hpp"
#include "client/plan/pool_seasons.hpp"

namespace takehold::client {

/// The fewest rootstock seeds in all with which every member still reaches the confidence; where
/// its seed lies on a common day, a member may need some scion seed or a graft more than alone. The
/// drafts' needs, days and chances become those of the pool if that is cheaper than each apart, and
/// takes fewer rootstock seeds; else nothing changes. True if they did.
bool pool_drafts(const PlanBasis& basis, const PoolMembers& members,
                 std::vector<PairDraft>& drafts);

/// What the pool leads to with `rootstocks` seeds in all: the members' listed seed and spreads.
void list_pool(const PlanBasis& basis, const PoolMembers& members, int rootstocks,
               std::vector<PairDraft>& drafts);

/// Expected finished plants of all members in `seasons` seasons, those beyond what is wanted not
/// counted.
double pool_gain(const PlanBasis& basis, const PoolMembers& members, int rootstocks, int seasons,
                 std::vector<PairDraft>& drafts);

}  // namespace takehold::client
