// How much a trouble of the air matters: 88 % for two minutes is not 70 % for an hour, and grafts
// of the first three days die of what later ones stand.
#pragma once

#include <chrono>
#include <optional>

#include "daemon/watch/event.hpp"

namespace takehold::daemon {

struct Depth {
  double steps = 0;                                ///< beyond the limit, in deadbands
  std::chrono::milliseconds lasting{0};            ///< outside, so far
  std::optional<std::chrono::milliseconds> until;  ///< of a drift: the breach
  std::chrono::milliseconds healing{0};            ///< of the youngest batch, since it was grafted
};

/// Dangerous: in the first three days three deadbands out, a quarter of an hour outside, or a
/// breach within a quarter of an hour; later ten deadbands, or an hour (assumed). Else serious
/// outside the band and in the first three days, and mild.
Grade grade_of(const Depth& depth);

}  // namespace takehold::daemon
