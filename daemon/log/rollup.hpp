// What happened in a minute, in ten, in an hour: gathered while readings come in.
//
// Means are weighted by time: between two readings of a probe no more than five minutes apart the
// air is taken to have changed evenly; across a longer gap nothing is assumed. Lows and highs are
// of readings. Pure.
#pragma once

#include <array>
#include <chrono>
#include <cstdint>
#include <optional>
#include <vector>

#include "daemon/log/records.hpp"
#include "sensors/codec/told.hpp"

namespace takehold::daemon {

inline constexpr std::chrono::milliseconds kLongestLine = std::chrono::minutes(5);

/// The begin of the `length` that holds `at`.
sensors::Instant begin_of(sensors::Instant at, std::chrono::milliseconds length);

/// Values of one quantity over some time, in its own unit (degC, percent, ppm, µmol m-2 s-1).
struct Gathered {
  double area = 0;  ///< integral over the observed time, unit·ms
  std::int64_t observed_ms = 0;
  double sum = 0;
  double low = 0, high = 0;
  std::int64_t count = 0;

  void add_reading(double value);
  void add_line(double mean, std::int64_t ms);
  void add(const Gathered& other);
  /// None: no reading in it, a gap.
  std::optional<Bucket::Spread> spread() const;
};

/// One stretch of time of one probe. See sensors::place_of.
struct Rollup {
  sensors::Instant from;
  Gathered temperature = {};
  Gathered humidity = {};
  Gathered leaf_temperature = {};
  Gathered co2 = {};
  Gathered light = {};

  bool is_empty() const;
};

/// Readings of one probe, told in order of time, cut into stretches of one length.
class RollupBuilder {
 public:
  explicit RollupBuilder(std::chrono::milliseconds length) : length_(length) {}

  /// Appends to `done` what is over. A reading not after the last is passed over.
  void see(const sensors::Reading& reading, std::vector<Rollup>& done);
  /// Time is `now`: what no later reading can change any more is over.
  void pass(sensors::Instant now, std::vector<Rollup>& done);
  /// Ends the stretch that is open.
  void finish(std::vector<Rollup>& done);

  std::chrono::milliseconds length() const { return length_; }

 private:
  struct Point {
    sensors::Instant at;
    double value;
  };
  void line(const Point& from, const Point& to, sensors::Told quantity);
  void open(sensors::Instant at, std::vector<Rollup>& done);

  std::chrono::milliseconds length_;
  std::vector<Rollup> open_;  ///< the last and, while a line reaches into it, the one before
  std::array<std::optional<Point>, sensors::kAllTold.size()> last_;  ///< by quantity
  std::optional<sensors::Instant> last_at_;
};

/// Whether charts and rollups take it: what is bad or missing is a gap.
bool is_charted(const sensors::Reading& reading);
/// In the unit of the quantity.
std::optional<double> value_of(const sensors::Reading& reading, sensors::Told quantity);

}  // namespace takehold::daemon
