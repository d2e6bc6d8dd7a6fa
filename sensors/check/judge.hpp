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
  CarbonDioxide most_co2 = CarbonDioxide::ppm(100'000);  ///< beyond, people die
  PhotonFlux most_light = PhotonFlux::umol(3000);        ///< full sun is some 2000
};

/// A reading corrected, clipped and marked, and why it is not good.
struct Judged {
  Reading reading;
  std::string reason;  ///< for people; empty when good
};

/// Corrects, then judges. No value there: none. A value that no air or probe can have: bad (the
/// values are kept, to be shown); an impossible extra is left out. Never better than `raw.quality`
/// already was. What the probe itself told stands in the reading's `raw`.
Judged judge(const Reading& raw, const Calibration& calibration = {},
             const PhysicalRange& range = {});

}  // namespace takehold::sensors
