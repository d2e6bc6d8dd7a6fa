// The warmth a sowing lives through: bench temperatures hour by hour, and what they add up to.
#pragma once

#include <chrono>
#include <optional>
#include <span>
#include <vector>

#include "sensors/quantity/growth.hpp"
#include "sensors/quantity/temperature.hpp"

namespace takehold::client {

/// Time since sowing, in days and parts of days.
using Age = std::chrono::duration<double, std::chrono::days::period>;

/// A bench as the season sheet describes it. Its day is centred on noon (assumed).
struct BenchCycle {
  sensors::Celsius day = sensors::Celsius::degc(22);
  sensors::Celsius night = sensors::Celsius::degc(22);
  double day_hours = 14;  ///< 0..24

  /// Mean temperature of the clock hour that begins `hour` hours after midnight (0..23).
  sensors::Celsius mean_of_hour(int hour) const;
};

/// Hourly temperatures of `length` days from local noon, the time at which a day alone is meant.
std::vector<sensors::Celsius> hourly_from_noon(const BenchCycle& bench, std::chrono::days length);

/// Warmth that counts for growth in one day at a temperature: T - 10 degC, held between 0 and 20
/// (base 10 and slowing above 30: Zalom & Wilson 1999).
sensors::ThermalTime growth_heat_per_day(sensors::Celsius air);

/// What hourly temperatures add up to from their start on: progress towards emergence and heat for
/// growth. Within an hour both rise evenly.
class Course {
 public:
  /// `hourly` holds one mean an hour from the sowing on, past hours logged or all of them planned.
  explicit Course(std::span<const sensors::Celsius> hourly);

  Age length() const { return std::chrono::hours(progress_.size() - 1); }
  /// When the emergence table's progress reaches `progress` (1 = an average seed is up); nothing if
  /// the course ends first.
  std::optional<Age> age_at_progress(double progress) const;
  /// Progress reached at an age; beyond the course's end it stays.
  double progress_at(Age age) const;
  /// Heat between two ages; beyond the course's end nothing is added.
  sensors::ThermalTime heat_between(Age from, Age to) const;
  /// When `heat` has been added since `from`; nothing if the course ends first.
  std::optional<Age> age_at_heat(Age from, sensors::ThermalTime heat) const;

 private:
  std::vector<double> progress_;  // at the start of each hour, and at the end of the last
  std::vector<double> heat_;      // degC·d, likewise
};

}  // namespace takehold::client
