// A probe in that air: late, a little wrong, a little noisy, and sometimes broken.
#pragma once

#include <chrono>
#include <cstdint>
#include <optional>

#include "sensors/codec/decoded.hpp"
#include "sensors/sim/chamber.hpp"

namespace takehold::sensors {

/// All assumed, of a usual digital probe in a cap.
struct ProbeSettings {
  double temperature_lag_s = 20.0;  ///< time constants
  double humidity_lag_s = 30.0;
  TemperatureSpan temperature_offset = TemperatureSpan::kelvin(0.0);
  RelativeHumidity humidity_offset = RelativeHumidity::pct(0.0);
  TemperatureSpan temperature_noise = TemperatureSpan::kelvin(0.02);  ///< sd
  RelativeHumidity humidity_noise = RelativeHumidity::pct(0.1);       ///< sd
};

struct ProbeFaults {
  bool silent = false;
  bool stuck = false;
  bool wet = false;
  bool jump = false;
  bool off = false;
  bool wild = false;
};

class SimulatedProbe {
 public:
  /// `key` chooses its own stream of noise.
  SimulatedProbe(const ProbeSettings& settings, std::uint64_t key, const Chamber& chamber);

  void step_one_second(const Chamber& chamber, const ProbeFaults& faults);

  /// What it says now; none while it is silent. Asked twice in one second it says the same.
  std::optional<Decoded> says() const;

 private:
  Decoded fresh() const;

  ProbeSettings settings_;
  std::uint64_t key_;
  std::uint64_t second_ = 0;
  double degc_;
  double pct_;
  ProbeFaults faults_;
  std::optional<Decoded> held_;  ///< what it repeats while stuck
};

/// Settings of the probe of that number (from 0), with offsets of its own drawn from the seed.
ProbeSettings probe_of_number(std::uint64_t seed, int number);

}  // namespace takehold::sensors
