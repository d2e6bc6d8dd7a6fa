// Hyland & Wexler 1983, "Formulations for the thermodynamic properties of the saturated phases of
// H2O from 173.15 K to 473.15 K", as printed by ASHRAE:
//   ln es = c1/T + c2 + c3 T + c4 T^2 + c5 T^3 + c6 ln T,   es in Pa, T in K.
// ln es is close to straight in 1/T, so Newton's method on ln es finds the dew point in a few
// steps.
#include "sensors/air/psychrometrics.hpp"

#include <algorithm>
#include <cmath>

namespace takehold::sensors {
namespace {

constexpr double kC1 = -5.8002206e3;
constexpr double kC2 = 1.3914993;
constexpr double kC3 = -4.8640239e-2;
constexpr double kC4 = 4.1764768e-5;
constexpr double kC5 = -1.4452093e-8;
constexpr double kC6 = 6.5459673;

constexpr double kWaterToAirMass = 0.621945;
constexpr double kWaterGramsPerMol = 18.01528;
constexpr double kGasConstant = 8.314462618;  // J/(mol K)

constexpr double kColdestDewDegc = -100.0;
constexpr double kWarmestDewDegc = 200.0;
constexpr double kDewPointStepDegc = 1e-8;  // Newton has converged far below the 1e-6 promised
constexpr int kDewPointSteps = 60;          // 4-6 are used; a bound, not a tuning

double log_saturation(double t) {
  return kC1 / t + kC2 + t * (kC3 + t * (kC4 + t * kC5)) + kC6 * std::log(t);
}

double log_saturation_slope(double t) {
  return -kC1 / (t * t) + kC3 + t * (2.0 * kC4 + t * 3.0 * kC5) + kC6 / t;
}

}  // namespace

Pressure saturation_vapour_pressure(Celsius temperature) {
  return Pressure::pa(std::exp(log_saturation(temperature.kelvin())));
}

double saturation_slope_pa_per_k(Celsius temperature) {
  const double t = temperature.kelvin();
  return std::exp(log_saturation(t)) * log_saturation_slope(t);
}

Pressure vapour_pressure(Celsius temperature, RelativeHumidity humidity) {
  return saturation_vapour_pressure(temperature) * humidity.fraction();
}

RelativeHumidity relative_humidity(Celsius temperature, Pressure vapour) {
  return RelativeHumidity::fraction(vapour / saturation_vapour_pressure(temperature));
}

std::optional<Celsius> dew_point(Pressure vapour) {
  if (!(vapour >= saturation_vapour_pressure(Celsius::degc(kColdestDewDegc))) ||
      vapour > saturation_vapour_pressure(Celsius::degc(kWarmestDewDegc))) {
    return std::nullopt;
  }
  const double wanted = std::log(vapour.pa());
  double degc = 15.0;
  for (int step = 0; step < kDewPointSteps; ++step) {
    const double t = Celsius::degc(degc).kelvin();
    const double move = (wanted - log_saturation(t)) / log_saturation_slope(t);
    degc = std::clamp(degc + move, kColdestDewDegc, kWarmestDewDegc);
    if (std::abs(move) < kDewPointStepDegc) break;
  }
  return Celsius::degc(degc);
}

HumidityRatio humidity_ratio(Pressure vapour, Pressure air) {
  return HumidityRatio::g_per_kg(1000.0 * kWaterToAirMass * (vapour / (air - vapour)));
}

AbsoluteHumidity absolute_humidity(Celsius temperature, Pressure vapour) {
  return AbsoluteHumidity::g_per_m3(vapour.pa() * kWaterGramsPerMol /
                                    (kGasConstant * temperature.kelvin()));
}

Pressure vapour_pressure_deficit(Celsius temperature, RelativeHumidity humidity) {
  return saturation_vapour_pressure(temperature) * (1.0 - humidity.fraction());
}

Pressure leaf_vapour_pressure_deficit(Celsius leaf, Celsius air, RelativeHumidity humidity) {
  return saturation_vapour_pressure(leaf) - vapour_pressure(air, humidity);
}

AirState state_of_air(Celsius temperature, RelativeHumidity humidity, Pressure air) {
  const Pressure vapour = vapour_pressure(temperature, humidity);
  return {saturation_vapour_pressure(temperature),
          vapour,
          vapour_pressure_deficit(temperature, humidity),
          dew_point(vapour),
          humidity_ratio(vapour, air),
          absolute_humidity(temperature, vapour)};
}

Pressure deficit_error(Celsius temperature, RelativeHumidity humidity, ProbeError error) {
  const double by_humidity =
      saturation_vapour_pressure(temperature).pa() * error.humidity.fraction();
  const double by_temperature = saturation_slope_pa_per_k(temperature) *
                                (1.0 - humidity.fraction()) * error.temperature.kelvin();
  return Pressure::pa(std::hypot(by_humidity, by_temperature));
}

int earned_decimals_kpa(Pressure error) {
  constexpr int kMostDecimals = 4;
  if (!(error.kpa() > 0.0)) return kMostDecimals;
  const auto place = static_cast<int>(std::floor(std::log10(error.kpa())));
  return std::clamp(-place, 0, kMostDecimals);
}

}  // namespace takehold::sensors
