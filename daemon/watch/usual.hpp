// What is usual for one quantity of this chamber: between which marks it goes to and fro, and how
// steeply.
//
// Heaters and humidifiers cycle, so a falling half-cycle is no drift. The marks are quantiles over
// the ordinary minutes of the last hours, so they hold for saw teeth of any length, for a steady
// line with noise, and for what lies between. Minutes beyond the marks are kept aside; when they
// are most of the last hour and go nowhere, the usual has changed (another set point), and it is
// learnt anew.
// Numbers are in the unit its owner feeds it. No I/O, no clock.
#pragma once

#include <deque>

#include "sensors/quantity/calendar.hpp"

namespace takehold::daemon {

struct UsualOptions {
  double least_margin;  ///< beyond a mark by less than this is never unusual
};

class Usual {
 public:
  explicit Usual(const UsualOptions& options) : options_(options) {}

  /// Level and slope as filtered; `level_sd`: how well the level is known. `disturbed`: somebody is
  /// at the chamber, so this is no ordinary moment.
  void see(sensors::Instant at, double level, double slope, double level_sd, bool disturbed);

  /// Enough was seen to judge by.
  bool knows() const { return known_; }
  double low() const { return low_; }
  double high() const { return high_; }
  double mean() const { return mean_; }
  double below() const { return low_ - low_margin_; }    ///< under this it is unusual
  double above() const { return high_ + high_margin_; }  ///< over this it is
  /// The longest it stayed in the upper half between the marks, in the hours remembered.
  std::chrono::minutes longest_above() const { return longest_above_; }
  double fall() const { return fall_; }  ///< the steepest usual slope down, 0 or less
  double rise() const { return rise_; }

 private:
  struct Minute {
    sensors::Instant at;
    double least, most, sum, slope_least, slope_most;
    int count;
    bool beyond, disturbed;
  };
  void close_minute();
  void learn();
  void learn_stays();
  bool has_come_to_rest_elsewhere() const;

  UsualOptions options_;
  std::deque<Minute> minutes_;
  Minute open_{};
  bool is_open_ = false;
  double level_sd_ = 0;
  bool known_ = false;
  double low_ = 0, high_ = 0, mean_ = 0, low_margin_ = 0, high_margin_ = 0;
  double fall_ = 0, rise_ = 0;
  std::chrono::minutes longest_above_{0};
};

}  // namespace takehold::daemon
