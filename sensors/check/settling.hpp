// Whether a probe in a closed jar has come to rest.
#pragma once

#include <chrono>
#include <deque>
#include <optional>

#include "sensors/quantity/calendar.hpp"
#include "sensors/quantity/moisture.hpp"
#include "sensors/quantity/temperature.hpp"

namespace takehold::sensors {

struct SettlingOptions {
  std::chrono::milliseconds window = std::chrono::minutes(60);  ///< looked at, and filled first
  double points_per_hour = 0.15;  ///< the trend over the window may be no steeper
  double kelvin_per_hour = 0.5;
  std::size_t least_readings = 20;
};

/// Fed with readings in order of time. The trend is the straight line of least squares through the
/// window; noise alone may tilt it by two standard errors.
class Settling {
 public:
  struct Rest {
    Celsius temperature;
    RelativeHumidity humidity;
    RelativeHumidity uncertainty;  ///< of that mean: scatter, the probe's step, and an hour of
                                   ///< the trend that is left
  };

  explicit Settling(SettlingOptions options = {}) : options_(options) {}

  void add(Instant at, Celsius temperature, RelativeHumidity humidity);

  /// The means of the window, once it is filled and level; none: not yet.
  std::optional<Rest> rest() const;
  /// How fast the humidity still moves; none: too few readings to tell.
  std::optional<double> points_per_hour() const;

 private:
  struct Sample {
    Instant at;
    double degc, pct;
  };
  struct Line {
    double mean, per_hour, slope_error, scatter;
  };
  Line line(double Sample::*value) const;
  bool is_full() const;
  /// The step in which the probe tells humidity. One that may be off by half of it either way has a
  /// standard uncertainty of step / sqrt(12).
  double step() const;

  SettlingOptions options_;
  std::optional<Instant> first_at_;
  std::deque<Sample> samples_;
};

}  // namespace takehold::sensors
