// What one probe said of one quantity in the last while, and what that history shows by itself:
// how long it has not changed, how finely it tells, where it leapt.
//
// Values are bare numbers here, degC or percent as the owner knows. Times never go back. Bounded:
// forty minutes, and for the span of values one sample in five seconds.
#pragma once

#include <chrono>
#include <deque>
#include <optional>

#include "sensors/quantity/calendar.hpp"

namespace takehold::sensors {

/// A change between two readings that is large and quick.
struct Leap {
  Instant at;
  double size = 0.0;  ///< signed
};

class ValueHistory {
 public:
  struct Spread {
    double low, high;
    double size() const { return high - low; }
  };

  /// A change of at least `leap` from one reading to the next is a leap, if they are no further
  /// apart than `quick`.
  ValueHistory(double leap, std::chrono::milliseconds quick) : leap_(leap), quick_(quick) {}

  void add(Instant at, double value);

  std::optional<double> newest() const { return newest_; }
  Instant newest_at() const { return newest_at_; }
  /// Since when every reading was the same, to the last digit.
  Instant unchanged_since() const { return unchanged_since_; }
  int unchanged_readings() const { return unchanged_readings_; }
  /// The smallest change seen so far: how finely the probe tells; none: it has not changed yet.
  std::optional<double> finest_step() const { return finest_step_; }

  /// Least and greatest of [from, to]; none: nothing was said then.
  std::optional<Spread> spread(Instant from, Instant to) const;
  const std::deque<Leap>& leaps() const { return leaps_; }

 private:
  struct Sample {
    Instant at;
    double value;
  };
  void note_change(Instant at, double value);

  double leap_;
  std::chrono::milliseconds quick_;
  std::optional<double> newest_;
  Instant newest_at_{};
  Instant unchanged_since_{};
  int unchanged_readings_ = 0;
  std::optional<double> finest_step_;
  std::deque<Sample> samples_;
  std::deque<Leap> leaps_;
};

}  // namespace takehold::sensors
