// What a probe says, put right by what is known of that probe.
#pragma once

#include <optional>

#include "sensors/quantity/calendar.hpp"
#include "sensors/quantity/moisture.hpp"
#include "sensors/quantity/problem.hpp"
#include "sensors/quantity/temperature.hpp"

namespace takehold::sensors {

/// true value = gain · reading + offset; the offset in the quantity's unit (degC, percent).
struct Correction {
  double gain = 1.0;
  double offset = 0.0;
};

/// Both corrections of one probe; what the settings fill. The default changes nothing.
struct Calibration {
  Correction temperature = {};
  Correction humidity = {};
  std::optional<Day> done_on = std::nullopt;
  std::optional<Day> due_on = std::nullopt;  ///< when it wants doing again
};

/// A gain must be 0.5 to 2, offsets within 20: beyond, it is a mistyped number or a dead probe.
/// Code "bad-calibration", `where` the key.
Result<void> check(const Calibration& calibration);

Celsius corrected(Celsius raw, const Correction& correction);
RelativeHumidity corrected(RelativeHumidity raw, const Correction& correction);

}  // namespace takehold::sensors
