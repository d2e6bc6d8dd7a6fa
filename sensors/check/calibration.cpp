#include "sensors/check/calibration.hpp"

#include <cmath>
#include <string>

namespace takehold::sensors {
namespace {

constexpr double kLeastGain = 0.5;
constexpr double kMostGain = 2.0;
constexpr double kMostOffset = 20.0;

Result<void> check_correction(const Correction& correction, const std::string& name) {
  // Written so that a NaN fails too.
  if (!(correction.gain >= kLeastGain && correction.gain <= kMostGain)) {
    return Problem{"bad-calibration", "a gain is 0.5 to 2", "", name + ".gain", ""};
  }
  if (!(std::abs(correction.offset) <= kMostOffset)) {
    return Problem{"bad-calibration", "an offset is within 20", "", name + ".offset", ""};
  }
  return {};
}

double apply(double raw, const Correction& correction) {
  return correction.gain * raw + correction.offset;
}

}  // namespace

Result<void> check(const Calibration& calibration) {
  if (const auto checked = check_correction(calibration.temperature, "temperature"); !checked) {
    return checked;
  }
  return check_correction(calibration.humidity, "humidity");
}

Celsius corrected(Celsius raw, const Correction& correction) {
  return Celsius::degc(apply(raw.degc(), correction));
}

RelativeHumidity corrected(RelativeHumidity raw, const Correction& correction) {
  return RelativeHumidity::pct(apply(raw.pct(), correction));
}

}  // namespace takehold::sensors
