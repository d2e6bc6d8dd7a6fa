// stage: the grower's hand on a batch's stages.
#pragma once

#include <string>

#include "client/command/recording.hpp"
#include "client/season/batch.hpp"

namespace takehold::client {

/// The longest hold, in hours: a fortnight, which no healing needs.
inline constexpr double kLongestHold = 336;

/// Records that the next stage begins, that the present one lasts `hours` longer, or that the one
/// before begins again. Refuses "already-finished", "plan-over", "before-the-graft", "bad-count".
BatchEvent change_stage(const Telling& telling, const std::string& batch, StageChange change,
                        double hours = 0);

}  // namespace takehold::client
