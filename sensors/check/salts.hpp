// Air above saturated salt solutions: humidities that nature keeps, for calibrating probes.
//
// L. Greenspan 1977, Humidity fixed points of binary saturated aqueous solutions, J. Res. Natl.
// Bur. Stand. 81A:89-96: the values at 15, 20, 25 and 30 degC, between them straight lines (within
// 0.03 points of his polynomials). His uncertainties are quoted from memory, and taken here as
// standard uncertainties, which is cautious.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "sensors/quantity/moisture.hpp"
#include "sensors/quantity/problem.hpp"
#include "sensors/quantity/temperature.hpp"

namespace takehold::sensors {

/// The humidity over one salt at one temperature.
struct FixedPoint {
  RelativeHumidity humidity;
  RelativeHumidity uncertainty;  ///< standard, points
  double points_per_kelvin;      ///< how it moves with temperature
};

struct Salt {
  std::string_view formula;  ///< "NaCl"
  std::string_view name;     ///< "sodium chloride"

  /// Code "outside-table" beyond 15 to 30 degC.
  Result<FixedPoint> at(Celsius temperature) const;
};

/// From the driest: LiCl MgCl2 K2CO3 NaBr NaCl KCl K2SO4.
std::span<const Salt> all_salts();

/// By formula or name, in any case. Code "unknown-salt", the known ones in the hint.
Result<Salt> find_salt(std::string_view text);

}  // namespace takehold::sensors
