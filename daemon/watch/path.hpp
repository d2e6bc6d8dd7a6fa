// The way a quantity has come lately, and how it bends.
//
// Air that is left alone goes to rest exponentially, so straight lines foretell too early an end.
// The last stretch in one direction is parted into three; how its pace changes from part to part
// tells how soon it will slow down. No I/O, no clock.
#pragma once

#include <deque>
#include <optional>

#include "sensors/quantity/calendar.hpp"

namespace takehold::daemon {

/// Speed towards a limit, in the quantity's unit a second, and how it fades.
struct Pace {
  double speed;  ///< now
  double speed_sd;
  double fades_s;  ///< time constant; infinite: straight on
};

class Path {
 public:
  void see(sensors::Instant at, double level);
  void forget() { points_.clear(); }

  /// Of the stretch that leads downwards (`below`) or upwards to the present; `noise`: standard
  /// deviation of one level. None: it is too short, or does not lead there.
  std::optional<Pace> pace(bool below, double noise) const;
  /// The fastest fall (or rise) over any minute of what is remembered, per second; 0: it never fell
  /// (rose), or a minute is not there yet.
  double steepest(bool fall) const;
  /// The level five minutes ago; none: less is remembered.
  std::optional<double> lately() const;
  /// The mean of the first third of the last quarter of an hour; none: that is less than five
  /// minutes.
  std::optional<double> earlier() const;

 private:
  struct Point {
    sensors::Instant at;
    double level;
  };
  /// How far from the first third of the stretch to the second, and on to the third.
  struct Steps {
    double first, second, part_s;
    int readings;  ///< of a part
  };
  std::optional<Steps> steps(sensors::Instant from, double sign) const;

  std::deque<Point> points_;  ///< of the last half-hour
};

}  // namespace takehold::daemon
