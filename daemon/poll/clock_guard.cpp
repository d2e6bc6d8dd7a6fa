#include "daemon/poll/clock_guard.hpp"

namespace takehold::daemon {

namespace {
constexpr std::chrono::milliseconds kUnnoticed{2000};
}

std::optional<std::chrono::milliseconds> ClockGuard::look(sensors::Instant wall,
                                                          MonotoneTime monotone) {
  const auto passed = std::chrono::duration_cast<std::chrono::milliseconds>(monotone - monotone_);
  const auto step = (wall - wall_) - passed;
  wall_ = wall;
  monotone_ = monotone;
  if (step >= -kUnnoticed && step <= kUnnoticed) return std::nullopt;
  return step;
}

}  // namespace takehold::daemon
