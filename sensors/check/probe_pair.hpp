// Two probes of one place, held against each other over time.
//
// Differences are taken at readings of the same moments, of temperature, and of humidity twice: as
// told, and as this probe would tell the other's water at its own temperature. A warm corner and a
// cool one differ in the first and not in the second; a wrong thermometer the other way round;
// only a humidity sensor that is wrong differs in both.
#pragma once

#include <chrono>
#include <deque>
#include <optional>
#include <string>

#include "sensors/check/probe_record.hpp"

namespace takehold::sensors {

/// How far two probes of one place may differ for long: more than two good sensors and the usual
/// unevenness of a chamber come to (assumed).
struct DisagreeLimits {
  TemperatureSpan temperature = TemperatureSpan::kelvin(2.0);
  RelativeHumidity humidity = RelativeHumidity::pct(5.0);
};

class ProbePair {
 public:
  explicit ProbePair(DisagreeLimits limits) : limits_(limits) {}

  /// Takes the difference as it is now. Passed over where it says nothing: one has not told for
  /// long, stands at 100 %, or repeats itself.
  void compare(const ProbeRecord& a, const ProbeRecord& b);
  /// Forgets, as after a fault of one of them.
  void forget();

  /// Five minutes of calm air, or a quarter of an hour of any, and all that time too far apart;
  /// taken back when they are near again, or when there was nothing to compare for that long.
  bool disagrees() const { return disagrees_; }
  /// "4.2 degC" or "7.1 %": by how much, lately; empty: not known.
  std::string difference() const;
  /// By how many points a is usually above b; 0 until known.
  double usually_above() const { return usual_ ? *usual_ : 0.0; }

 private:
  struct Sample {
    Instant at;
    std::optional<double> kelvin, points;
    bool calm = false;
    double moved = 0.0;  ///< how many points both went to and fro, lately
  };
  struct Mean {
    double value = 0.0;
    bool one_sided = false;  ///< nine in ten lie on its side, and far out
  };
  void judge(Instant now);
  void learn(Instant at, double points);
  bool apart(Instant from, bool calm_only) const;
  std::optional<Mean> mean(std::optional<double> Sample::*value, double limit, Instant from,
                           bool calm_only) const;

  DisagreeLimits limits_;
  std::chrono::milliseconds slower_{0};  ///< the longer of the two polling times
  std::deque<Sample> samples_;
  bool disagrees_ = false;
  std::optional<double> usual_;
  std::optional<Instant> learnt_at_;
};

}  // namespace takehold::sensors
