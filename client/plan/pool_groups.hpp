// Which pairings may be planned over common stems.
#pragma once

#include <vector>

#include "client/plan/pairing_draft.hpp"
#include "client/plan/pool_matching.hpp"

namespace takehold::client {

/// Which drafts may share rootstock stems: places in the list of drafts, in order.
using PoolMembers = std::vector<std::size_t>;

/// Groups of two to kMostInPool drafts that sow one rootstock lot, and only to be sown, for the
/// same days. Drafts out of reach of their confidence, or too late, are left alone.
std::vector<PoolMembers> pools_among(const std::vector<PairDraft>& drafts);

}  // namespace takehold::client
