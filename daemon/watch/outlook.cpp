#include "daemon/watch/outlook.hpp"

#include <cmath>

namespace takehold::daemon {

using std::chrono::milliseconds;

std::optional<Outlook> outlook(const Motion& motion, double limit, bool below,
                               milliseconds horizon) {
  const double way = below ? motion.level - limit : limit - motion.level;
  const double speed = below ? -motion.slope : motion.slope;
  if (way <= 0) return Outlook{1.0, milliseconds(0)};
  if (speed <= 0) return std::nullopt;
  const double ahead_s = std::chrono::duration<double>(horizon).count();
  const double sd = std::hypot(motion.level_sd, ahead_s * motion.slope_sd);
  const double z = (speed * ahead_s - way) / sd;
  return Outlook{0.5 * std::erfc(-z / std::sqrt(2.0)),
                 milliseconds(std::llround(1000 * way / speed))};
}

}  // namespace takehold::daemon
