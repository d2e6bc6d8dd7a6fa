// One sowing a side, or two or three a few days apart.
#pragma once

#include "client/plan/pairing_draft.hpp"

namespace takehold::client {

/// What two or three waves must save of the cost to be worth the second day of sowing.
inline constexpr double kWorthWaves = 0.05;

/// Sows either side of a drafted pairing in two or three waves, evenly, where that reaches the
/// confidence at kWorthWaves less cost or better and, with the same seed and grafts in the same
/// seasons, is likelier to by more than two standard errors. Else nothing changes. Only for a draft
/// that sows one lot on either side and nothing before. Few seasons look whether any spacing comes
/// near that; all of them decide about the best of these. True where it changed.
bool sow_in_waves(const PlanBasis& basis, PairDraft& draft);

}  // namespace takehold::client
