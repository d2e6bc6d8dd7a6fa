#include "daemon/watch/outlook.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace takehold::daemon {

using std::chrono::milliseconds;

namespace {

constexpr double kPresent = 1.5;

/// The path sees the whole stretch, the filter the present: no faster than either allows. Within a
/// cycle of something else the present may be slow for a moment.
Pace pace_of(const Motion& motion, const Path& path, bool below) {
  const double speed = below ? -motion.slope : motion.slope;
  const Pace straight{speed, motion.slope_sd, std::numeric_limits<double>::infinity()};
  if (speed <= 0) return straight;
  auto pace = path.pace(below, motion.noise).value_or(straight);
  pace.speed = std::min(pace.speed, kPresent * speed + motion.slope_sd);
  return pace;
}

}  // namespace

std::optional<Outlook> outlook(const Motion& motion, const Path& path, double limit, bool below,
                               milliseconds horizon) {
  const double way = below ? motion.level - limit : limit - motion.level;
  if (way <= 0) return Outlook{1.0, milliseconds(0)};
  const Pace pace = pace_of(motion, path, below);
  if (pace.speed <= 0) return std::nullopt;
  const double ahead_s = std::chrono::duration<double>(horizon).count();
  const bool fades = std::isfinite(pace.fades_s);
  // An exponential's time until now + t goes as if by this much straight time.
  const double counts_s = fades ? pace.fades_s * -std::expm1(-ahead_s / pace.fades_s) : ahead_s;
  const double sd = std::hypot(motion.level_sd, counts_s * pace.speed_sd);
  const double z = (pace.speed * counts_s - way) / sd;
  double until_s = way / pace.speed;
  if (fades) {
    if (way >= pace.speed * pace.fades_s) return std::nullopt;
    until_s = -pace.fades_s * std::log1p(-way / (pace.speed * pace.fades_s));
  }
  return Outlook{0.5 * std::erfc(-z / std::sqrt(2.0)), milliseconds(std::llround(1000 * until_s))};
}

}  // namespace takehold::daemon
