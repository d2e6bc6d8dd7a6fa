// Too little seed: who gets how much.
#pragma once

#include <vector>

#include "client/plan/pairing_draft.hpp"
#include "client/plan/root_draft.hpp"

namespace takehold::client {

/// Cuts `listed` of every draft down to the seed on hand of each lot that is short, in proportion
/// to weight x need, an own-root plant weighing 1; and no more grafts than seeds of either side. A
/// simple share, not the best one.
void share_scarce_seed(const SeedBox& box, std::vector<PairDraft>& pairs,
                       std::vector<RootDraft>& roots);

}  // namespace takehold::client
