// From what a probe tells over saturated salts to its correction, and how sure that is.
//
// True = gain · told + offset through two points (x1, y1), (x2, y2), D = x2 - x1:
//   gain = (y2 - y1) / D,  offset = y1 - gain · x1
// First-order propagation of independent errors, w = u(y)² + gain² u(x)² of each point:
//   u(gain)² = (w1 + w2) / D²,  u(offset)² = (x2² w1 + x1² w2) / D²
//   at a told x:  u² = ((x2 - x)² w1 + (x - x1)² w2) / D²
// u(y) has three parts: the salt's own, its movement with a temperature that is only nearly known,
// and the unevenness between salt and probe, at some 6 % of the humidity for each kelvin.
#pragma once

#include "sensors/check/calibration.hpp"
#include "sensors/check/salts.hpp"

namespace takehold::sensors {

/// A calibration wants doing again after a year (common practice).
inline constexpr auto kUsuallyDueAfter = Days(365);

/// A probe that has settled in a closed jar over a wet salt.
struct SaltReading {
  Salt salt;
  Celsius temperature;           ///< in the jar, as the probe tells it
  RelativeHumidity told;         ///< uncorrected
  RelativeHumidity uncertainty;  ///< standard, of the mean told: noise and resolution
};

struct SaltOptions {
  TemperatureSpan thermometer = TemperatureSpan::kelvin(0.3);  ///< standard uncertainty (assumed)
  TemperatureSpan unevenness = TemperatureSpan::kelvin(0.1);  ///< salt to probe, standard (assumed)
  /// Nearer than this two points say too little of a gain: its error would grow into the healing
  /// band. NaCl and K2SO4 are 22 apart.
  RelativeHumidity least_apart = RelativeHumidity::pct(15.0);
};

struct SaltCalibration {
  Correction correction;
  double gain_uncertainty = 0.0;
  RelativeHumidity offset_uncertainty = RelativeHumidity::pct(0.0);

  /// Standard uncertainty of a corrected value, from the told one.
  RelativeHumidity uncertainty_at(RelativeHumidity told) const;

  // The two points, for uncertainty_at: told, and weight w.
  double x1 = 0.0, x2 = 0.0, w1 = 0.0, w2 = 0.0;
};

/// The standard uncertainty of the true humidity at the probe.
Result<RelativeHumidity> true_uncertainty(const SaltReading& reading, const SaltOptions& options);

/// Gain and offset. Codes "too-close" (the salts, or what the probe told of them), "outside-table",
/// "bad-calibration" (see check(Calibration)).
Result<SaltCalibration> two_point(const SaltReading& a, const SaltReading& b,
                                  const SaltOptions& options = {});

/// The offset alone, for who has one salt: gain 1. Codes "outside-table", "bad-calibration".
Result<SaltCalibration> one_point(const SaltReading& reading, const SaltOptions& options = {});

}  // namespace takehold::sensors
