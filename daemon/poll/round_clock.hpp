// Which probes are due, and when the next round begins.
//
// Probes whose times fall together are polled together, so that one commit serves them all. A round
// that starts late skips what it missed instead of catching up: a reading of the past cannot be
// had.
#pragma once

#include <chrono>
#include <cstddef>
#include <vector>

#include "daemon/poll/link_machine.hpp"

namespace takehold::daemon {

/// All probes' polling times, on one monotone clock passed in. Every period must be positive.
class RoundClock {
 public:
  /// `periods[i]` belongs to probe i. All are due at `start`.
  RoundClock(std::vector<std::chrono::milliseconds> periods, MonotoneTime start);

  /// When the next round begins; MonotoneTime::max() without probes.
  MonotoneTime next_at() const;
  /// The probes due at `now`, lowest index first; each is set to its next time after `now`.
  std::vector<std::size_t> take_due(MonotoneTime now);

 private:
  struct Slot {
    std::chrono::milliseconds period;
    MonotoneTime due;
  };
  std::vector<Slot> slots_;
};

}  // namespace takehold::daemon
