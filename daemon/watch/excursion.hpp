// Whether the air has been out of its band long enough to say so, and back long enough to take it
// back: on-delay and deadband, for one quantity. Air that keeps coming back over its limit is one
// trouble (a chattering alarm): from the second time within the hour it counts as over only after
// it has stayed inside for a while.
//
// A machine without I/O. It is told where a value stands (place_in), and when time passed without
// a new value; it answers when to raise and when to clear. Unknown air neither raises nor clears.
#pragma once

#include <chrono>
#include <optional>

#include "sensors/quantity/calendar.hpp"

namespace takehold::daemon {

/// Where a value stands against its band. An edge is within the band, but nearer to that limit than
/// the deadband: air that left over a limit has to come back past its edge before that is taken
/// back.
enum class Place {
  unknown,  ///< no trusted value
  free,     ///< nothing is asked for
  below,
  low_edge,
  inside,
  high_edge,
  above,
};

class Excursion {
 public:
  enum class Verdict { nothing, raised, cleared };

  /// `on_delay`: how long the air must be out before it is said.
  explicit Excursion(std::chrono::milliseconds on_delay) : on_delay_(on_delay) {}

  /// A value was seen. Times never go back.
  Verdict see(sensors::Instant at, Place place);
  /// No value was seen, but the time has come (see due).
  Verdict wait(sensors::Instant at);
  /// When to call wait, if no value comes before.
  std::optional<sensors::Instant> due() const;

  bool standing() const { return standing_; }
  /// Where the air was last known to be outside, and since when.
  Place side() const { return side_; }
  std::optional<sensors::Instant> since() const { return since_; }
  /// Goes on with a warning raised before a restart.
  void resume_standing(sensors::Instant since, Place side) {
    standing_ = true;
    since_ = since;
    side_ = side;
  }

 private:
  Verdict outside(sensors::Instant at, Place place);

  std::chrono::milliseconds on_delay_;
  bool standing_ = false;
  Place side_ = Place::unknown;
  std::optional<sensors::Instant> since_;
  std::optional<sensors::Instant> cleared_at_, inside_since_;
  bool chatters_ = false;
};

}  // namespace takehold::daemon
