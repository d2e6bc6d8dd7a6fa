// Numbers as a grower types and reads them.
//
// Everything is kept in metric units; `Units` only says what a bare typed number means and what is
// shown. A typed suffix always wins: "75F", "24C", "2.0mm", "0.08in". A decimal comma is
// understood.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "client/season/words.hpp"
#include "sensors/quantity/length.hpp"
#include "sensors/quantity/mass.hpp"
#include "sensors/quantity/moisture.hpp"
#include "sensors/quantity/problem.hpp"
#include "sensors/quantity/temperature.hpp"

namespace takehold::client {

/// A number and the suffix behind it, blanks between them dropped: "75 F" is 75 and "F".
struct TypedNumber {
  double value;
  std::string suffix;
};

/// Code "bad-number" where there is no finite number; `what` names the argument in the problem.
sensors::Result<TypedNumber> parse_typed(std::string_view text, std::string_view what);

/// C, F (° allowed). Below absolute zero: "out-of-range". An unknown suffix: "unknown-unit".
sensors::Result<sensors::Celsius> parse_temperature(std::string_view text, Units units,
                                                    std::string_view what);
/// mm, cm, in; bare means mm, or inches in US units.
sensors::Result<sensors::Millimetres> parse_length(std::string_view text, Units units,
                                                   std::string_view what);
/// kg, g, lb, oz; bare means kg, or lb in US units.
sensors::Result<sensors::Kilograms> parse_mass(std::string_view text, Units units,
                                               std::string_view what);
/// "90" or "90%", from 0 to 100.
sensors::Result<sensors::RelativeHumidity> parse_humidity(std::string_view text,
                                                          std::string_view what);
/// m, ft; bare means m, or feet in US units. From -500 to 9000 m.
sensors::Result<sensors::Altitude> parse_altitude(std::string_view text, Units units,
                                                  std::string_view what);

/// A fixed number of decimals, never "-0.0".
std::string fixed(double value, int decimals);
std::string shown(sensors::Celsius temperature, Units units, int decimals = 1);  ///< "24.0 °C"
std::string shown(sensors::Millimetres length, Units units, int decimals = 2);   ///< "2.05 mm"
std::string shown(sensors::Kilograms weight, Units units, int decimals = 2);     ///< "1.25 kg"
/// The same without its unit, for a column whose head has it: "2.05" under "mm".
std::string bare(sensors::Millimetres length, Units units, int decimals = 2);
std::string_view unit_of_length(Units units);                             ///< "mm" or "in"
std::string shown(sensors::RelativeHumidity humidity, int decimals = 0);  ///< "90 %"
/// What lies between, the unit said once: "22.0 to 29.0 °C".
std::string shown(sensors::Celsius low, sensors::Celsius high, Units units, int decimals = 1);
/// "1 seed", "2 seeds"
std::string counted(long long count, std::string_view one, std::string_view many);
/// "0.93" as "93 in 100": a chance as a grower says it. Below 1 in 100 and above 99: "under",
/// "over".
std::string chance(double probability);

}  // namespace takehold::client
