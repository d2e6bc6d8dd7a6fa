// Where the chamber's air is, where it is going, and what is usual for it: per trusted probe a
// trend of temperature, vapour pressure, relative humidity and vapour pressure deficit, and of each
// quantity what the chamber usually does.
//
// Probes of one chamber differ by a little for good; that difference is learnt, so that the air
// does not seem to jump when one of them falls silent. No I/O, no clock; times never go back.
#pragma once

#include <array>
#include <chrono>
#include <map>
#include <optional>
#include <string>

#include "daemon/watch/path.hpp"
#include "daemon/watch/trend.hpp"
#include "daemon/watch/usual.hpp"
#include "sensors/quantity/moisture.hpp"
#include "sensors/quantity/temperature.hpp"

namespace takehold::daemon {

/// Their numbers here are in degC, Pa, percent and Pa.
enum class AirQuantity { temperature = 0, vapour = 1, humidity = 2, deficit = 3 };
inline constexpr std::size_t kAirQuantities = 4;

/// How one quantity of the joint air moves.
struct Motion {
  double level, slope;  ///< slope a second
  double level_sd, slope_sd;
  double least, most;  ///< of the probes, each freed of its own offset
  double noise;        ///< standard deviation of one joint reading
};

class AirTrends {
 public:
  AirTrends();
  /// A probe of the chamber, and how long its word holds.
  void add_probe(const std::string& name, std::chrono::milliseconds holds);
  /// A trusted reading of a known probe; others are passed over.
  void see(const std::string& probe, sensors::Instant at, sensors::Celsius temperature,
           sensors::RelativeHumidity humidity);
  /// The probe is not believed any more: what it said counts no longer.
  void distrust(const std::string& probe);
  /// After the readings of a round. `disturbed`: this is no ordinary moment to learn from.
  void end_round(sensors::Instant at, bool disturbed);

  /// None while no probe is known well enough.
  const std::optional<Motion>& motion(AirQuantity quantity) const {
    return motions_[std::size_t(quantity)];
  }
  const Usual& usual(AirQuantity quantity) const { return usual_[std::size_t(quantity)]; }
  const Path& path(AirQuantity quantity) const { return paths_[std::size_t(quantity)]; }
  /// Fewer probes speak than those of which the usual was learnt.
  bool are_fewer() const { return voices_ < usual_voices_; }
  /// The probes are further apart than they usually are: one of them may be failing.
  bool are_apart(AirQuantity quantity) const;

 private:
  struct Heard {
    Trend trend;
    double offset = 0;
    double weight = 0;  ///< of the offset, in seconds of learning
  };
  struct Probe {
    std::chrono::milliseconds holds{0};
    std::array<Heard, kAirQuantities> heard;
  };
  static std::array<Heard, kAirQuantities> fresh_trends();
  std::optional<Motion> joint(std::size_t quantity, sensors::Instant at) const;
  void learn_offsets(std::size_t quantity, sensors::Instant at, double seconds);

  std::map<std::string, Probe> probes_;
  std::array<Usual, kAirQuantities> usual_;
  std::array<std::optional<Motion>, kAirQuantities> motions_;
  std::array<Path, kAirQuantities> paths_;
  std::optional<sensors::Instant> last_round_;
  int voices_ = 0, usual_voices_ = 0;
};

/// Temperature and humidity are between their usual marks.
bool is_as_usual(const AirTrends& air);

}  // namespace takehold::daemon
