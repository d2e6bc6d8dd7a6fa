// Level and slope of one quantity as one probe tells it: a Kalman filter whose innovations are
// checked.
//
// The state is a level that moves by a slope, the slope itself a random walk (the local linear
// trend of Harvey 1989). How noisy the probe is, the filter learns from second differences, which
// no steady motion can raise. Innovations that keep to one side mean that the motion has changed (a
// device switched, a door opened): the filter then forgets its slope instead of averaging over the
// kink. A single wild value is passed over; the second in a row is believed.
// Numbers are in the unit its owner feeds it, slopes in that unit a second. No I/O, no clock.
#pragma once

#include <optional>

#include "sensors/quantity/calendar.hpp"

namespace takehold::daemon {

struct TrendOptions {
  double restlessness;  ///< variance of the slope's walk, unit² / s³
  double first_noise;   ///< standard deviation of a reading, until learnt
  double least_noise;   ///< it is never believed to be better than this
};

class Trend {
 public:
  explicit Trend(const TrendOptions& options) : options_(options), noise_(options.first_noise) {}

  /// Times never go back. After a gap of more than five minutes it begins anew.
  void see(sensors::Instant at, double value);

  bool knows() const { return seen_ >= kEnough; }
  double level() const { return level_; }
  double slope() const { return slope_; }
  double level_sd() const;
  double slope_sd() const;
  double noise() const { return noise_; }
  std::optional<sensors::Instant> last_at() const { return last_at_; }

 private:
  static constexpr int kEnough = 6;  // readings

  void begin(sensors::Instant at, double value);
  void move(double seconds);
  void learn_noise(double value);
  bool is_wild(double innovation, double sd);

  TrendOptions options_;
  double noise_;
  double level_ = 0, slope_ = 0;
  double p00_ = 0, p01_ = 0, p11_ = 0;  // covariance of level and slope
  double leaning_ = 0;                  // innovations to one side, fading
  bool passed_over_ = false;
  double before_ = 0, before_that_ = 0;
  int seen_ = 0;
  std::optional<sensors::Instant> last_at_;
};

}  // namespace takehold::daemon
