// What moist air is: from temperature, relative humidity and pressure to everything a grower asks.
//
// Saturation is always over liquid water (Hyland & Wexler 1983, the formula ASHRAE prints), below
// 0 degC too: that is what relative humidity probes report. Real air holds some 0.5 % more water
// than the pure vapour these formulas describe; no enhancement factor is applied.
// Pure functions, no state; meant for -40..120 degC. Nothing here judges whether a value can be:
// that is sensors/check.
#pragma once

#include <optional>

#include "sensors/quantity/moisture.hpp"
#include "sensors/quantity/temperature.hpp"

namespace takehold::sensors {

/// The pressure taken when nobody says how high the place lies: the standard atmosphere.
inline constexpr Pressure kStandardPressure = Pressure::pa(101325.0);

/// Vapour pressure of water in equilibrium with liquid water.
Pressure saturation_vapour_pressure(Celsius temperature);

/// How fast that rises: pascals for each kelvin.
double saturation_slope_pa_per_k(Celsius temperature);

Pressure vapour_pressure(Celsius temperature, RelativeHumidity humidity);
RelativeHumidity relative_humidity(Celsius temperature, Pressure vapour);

/// Where air of this vapour pressure would begin to dew, within 1e-6 degC. None if the vapour
/// pressure belongs to no temperature from -100 to 200 degC (absolutely dry air has no dew point).
std::optional<Celsius> dew_point(Pressure vapour);

/// Water to dry air by mass; `vapour` must be below `air`.
HumidityRatio humidity_ratio(Pressure vapour, Pressure air);

AbsoluteHumidity absolute_humidity(Celsius temperature, Pressure vapour);

/// How much more vapour the air would take up: es(T)·(1 - RH).
Pressure vapour_pressure_deficit(Celsius temperature, RelativeHumidity humidity);

/// The pull on a leaf's water: es(leaf) - vapour pressure of the air. See water_condenses().
Pressure leaf_vapour_pressure_deficit(Celsius leaf, Celsius air, RelativeHumidity humidity);

/// A leaf whose deficit is negative is colder than the dew point: water condenses on it.
constexpr bool water_condenses(Pressure leaf_deficit) {
  return leaf_deficit.pa() < 0.0;
}

/// The same air, all at once. `dew_point` is missing for absolutely dry air only.
struct AirState {
  Pressure saturation;
  Pressure vapour;
  Pressure deficit;
  std::optional<Celsius> dew_point;
  HumidityRatio humidity_ratio;
  AbsoluteHumidity absolute_humidity;
};
AirState state_of_air(Celsius temperature, RelativeHumidity humidity,
                      Pressure air = kStandardPressure);

/// A probe's own error, plus or minus, as its data sheet states it.
struct ProbeError {
  TemperatureSpan temperature;
  RelativeHumidity humidity;  ///< points of relative humidity
};

/// What that error makes of the vapour pressure deficit, plus or minus: first order, the two errors
/// taken as independent. At 24 degC and 90 %, 2 points of humidity alone are 60 Pa.
Pressure deficit_error(Celsius temperature, RelativeHumidity humidity, ProbeError error);

/// How many decimals of kPa such an error earns: the place of its first digit (60 Pa: 2), 0..4.
int earned_decimals_kpa(Pressure error);

}  // namespace takehold::sensors
