#include "sensors/check/salt_calibration.hpp"

#include <cmath>
#include <cstdio>

#include "sensors/air/psychrometrics.hpp"

namespace takehold::sensors {
namespace {

double squared(double x) {
  return x * x;
}

Result<SaltCalibration> checked(const SaltCalibration& found) {
  if (const auto good = check(Calibration{{}, found.correction}); !good) {
    auto problem = good.error();
    problem.hint = "is the probe in the right jar, and still alive?";
    return problem;
  }
  return found;
}

Problem too_close(double apart, const SaltOptions& options) {
  char text[80];
  std::snprintf(text, sizeof text, "%.1f points apart, %.0f are needed", std::abs(apart),
                options.least_apart.pct());
  return {"too-close", "the two points lie too close", text, "",
          "NaCl with K2SO4, or MgCl2 with NaCl"};
}

}  // namespace

RelativeHumidity SaltCalibration::uncertainty_at(RelativeHumidity told) const {
  const double x = told.pct();
  if (x1 == x2) return offset_uncertainty;
  const double sum = squared(x2 - x) * w1 + squared(x - x1) * w2;
  return RelativeHumidity::pct(std::sqrt(sum) / std::abs(x2 - x1));
}

Result<RelativeHumidity> true_uncertainty(const SaltReading& reading, const SaltOptions& options) {
  const auto point = reading.salt.at(reading.temperature);
  if (!point) return point.error();
  const double each_kelvin = saturation_slope_pa_per_k(reading.temperature) /
                             saturation_vapour_pressure(reading.temperature).pa();
  const double uneven = point->humidity.pct() * each_kelvin * options.unevenness.kelvin();
  const double moved = point->points_per_kelvin * options.thermometer.kelvin();
  return RelativeHumidity::pct(
      std::sqrt(squared(point->uncertainty.pct()) + squared(moved) + squared(uneven)));
}

Result<SaltCalibration> two_point(const SaltReading& a, const SaltReading& b,
                                  const SaltOptions& options) {
  const auto ya = a.salt.at(a.temperature);
  if (!ya) return ya.error();
  const auto yb = b.salt.at(b.temperature);
  if (!yb) return yb.error();
  const double between = yb->humidity.pct() - ya->humidity.pct();
  const double apart = b.told.pct() - a.told.pct();
  if (std::abs(between) < options.least_apart.pct()) return too_close(between, options);
  if (std::abs(apart) < options.least_apart.pct() / 2) return too_close(apart, options);
  SaltCalibration found;
  const double gain = between / apart;
  found.correction = {gain, ya->humidity.pct() - gain * a.told.pct()};
  found.x1 = a.told.pct();
  found.x2 = b.told.pct();
  found.w1 = squared(true_uncertainty(a, options)->pct()) + squared(gain * a.uncertainty.pct());
  found.w2 = squared(true_uncertainty(b, options)->pct()) + squared(gain * b.uncertainty.pct());
  found.gain_uncertainty = std::sqrt(found.w1 + found.w2) / std::abs(apart);
  found.offset_uncertainty = found.uncertainty_at(RelativeHumidity::pct(0.0));
  return checked(found);
}

Result<SaltCalibration> one_point(const SaltReading& reading, const SaltOptions& options) {
  const auto point = reading.salt.at(reading.temperature);
  if (!point) return point.error();
  SaltCalibration found;
  found.correction = {1.0, point->humidity.pct() - reading.told.pct()};
  found.x1 = found.x2 = reading.told.pct();
  found.w1 =
      squared(true_uncertainty(reading, options)->pct()) + squared(reading.uncertainty.pct());
  found.offset_uncertainty = RelativeHumidity::pct(std::sqrt(found.w1));
  return checked(found);
}

}  // namespace takehold::sensors
