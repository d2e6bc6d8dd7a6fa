// Somebody at the chamber: an opening or a spray, and what the air does until it is itself again.
//
// A machine without I/O, told each round how hastily the air changes and whether it is as usual.
// Heaters overshoot and wet leaves give off water after a visit, for minutes or half an hour; air
// that is on its way back teaches nothing, and its way is no drift. One owner: Watch.
#pragma once

#include <optional>

#include "daemon/watch/cause.hpp"

namespace takehold::daemon {

class Visit {
 public:
  /// Times never go back. True: this is no ordinary moment.
  bool see(sensors::Instant at, Haste haste, bool as_usual);

  /// Since when the latest visit lasts, its aftermath included; none: nobody was there lately.
  std::optional<sensors::Instant> since() const { return since_; }
  /// The air has not been as usual again for long enough; for three quarters of an hour at most.
  bool recovering(sensors::Instant at) const;

 private:
  std::optional<sensors::Instant> since_, hasty_at_, lost_at_, usual_since_;
};

}  // namespace takehold::daemon
