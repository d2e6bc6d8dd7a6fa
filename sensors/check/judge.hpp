// The verdict on one reading by itself: can air be like that, and can a probe measure it.
#pragma once

#include <string>

#include "sensors/check/calibration.hpp"
#include "sensors/quantity/reading.hpp"

namespace takehold::sensors {

/// What a healthy probe in a chamber or on a bench can report (assumed, inclusive). The limits
/// leave out the values broken probes are known to give: -45, 85, 125 and 130 degC.
struct PhysicalRange {
  Celsius coldest = Celsius::degc(-40.0);
  Celsius warmest = Celsius::degc(80.0);
  /// Probes overshoot near saturation: up to this many points beyond 0..100 % are clipped and good.
  RelativeHumidity overshoot = RelativeHumidity::pct(5.0);
};

/// A reading corrected, clipped and marked, and why it is not good.
struct Judged {
  Reading reading;
  std::string reason;  ///< for people; empty when good
};

/// Corrects, then judges. Neither value there: none. A value that no air or probe can have: bad
/// (the values are kept, to be shown). Never better than `raw.quality` already was.
Judged judge(const Reading& raw, const Calibration& calibration = {},
             const PhysicalRange& range = {});

}  // namespace takehold::sensors
