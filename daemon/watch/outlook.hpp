// Where a quantity will be: the chance that it passes a limit within the horizon, and when.
#pragma once

#include <chrono>
#include <optional>

#include "daemon/watch/air_trends.hpp"

namespace takehold::daemon {

struct Outlook {
  double probability = 0;              ///< of passing the limit within the horizon
  std::chrono::milliseconds until{0};  ///< the likeliest time until then
};

/// `limit` in the motion's own unit, on the low side (`below`) or the high one. The level goes on
/// at its pace, which fades as the path lately did; where the path is too short to tell, straight
/// on by the filter's slope. The chance is a normal one. None: it is not moving towards the limit,
/// or comes to rest before. Past it already: probability 1, no time.
std::optional<Outlook> outlook(const Motion& motion, const Path& path, double limit, bool below,
                               std::chrono::milliseconds horizon);

}  // namespace takehold::daemon
