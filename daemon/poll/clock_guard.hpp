// Notices that the machine's clock was set.
//
// The wall clock may be slewed slowly without anybody being told; when it and the monotone clock
// part by more than two seconds between two looks, somebody set it (a time server, a hand, a board
// that woke in 1970). Summer time is no such step: instants do not know it. No I/O.
#pragma once

#include <chrono>
#include <optional>

#include "daemon/poll/link_machine.hpp"
#include "sensors/quantity/calendar.hpp"

namespace takehold::daemon {

class ClockGuard {
 public:
  ClockGuard(sensors::Instant wall, MonotoneTime monotone) : wall_(wall), monotone_(monotone) {}

  /// By how much the clock was set since the last look; none: it was not.
  std::optional<std::chrono::milliseconds> look(sensors::Instant wall, MonotoneTime monotone);

 private:
  sensors::Instant wall_;
  MonotoneTime monotone_;
};

}  // namespace takehold::daemon
