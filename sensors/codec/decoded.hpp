// What every wire format comes to, and how a number on a wire is read.
//
// Bytes from a wire are not trusted: each decoder checks length, form and number before use and
// answers a Problem, never an assert. Whether a value can be true is not asked here
// (sensors/check).
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "sensors/quantity/moisture.hpp"
#include "sensors/quantity/problem.hpp"
#include "sensors/quantity/reading.hpp"
#include "sensors/quantity/temperature.hpp"

namespace takehold::sensors {

/// One answer of one probe. At least one value is there.
struct Decoded {
  std::optional<Celsius> temperature;
  std::optional<RelativeHumidity> humidity;
  Extras extras = {};

  bool is_empty() const { return !temperature && !humidity && !extras.any(); }
};

/// "23.4", "-5", "+1e1", "23,4" (a decimal comma), blanks around it. No hexadecimal, no infinity,
/// nothing after it: code "bad-number".
Result<double> parse_number(std::string_view text);

/// A number in degC, or with its unit after it: C, degC, °C, F, degF, °F.
/// Codes "bad-number", "bad-unit".
Result<Celsius> parse_temperature(std::string_view text);

/// A number in percent, or with % or %RH after it. Codes "bad-number", "bad-unit".
Result<RelativeHumidity> parse_humidity(std::string_view text);

/// A number in parts per million, or with ppm after it. Codes "bad-number", "bad-unit".
Result<CarbonDioxide> parse_co2(std::string_view text);

/// A number in µmol m-2 s-1, or with umol or µmol after it. Codes "bad-number", "bad-unit".
Result<PhotonFlux> parse_light(std::string_view text);

/// Bytes made fit for a message: quoted, cut at 60, control and non-ASCII bytes as \xNN.
std::string quote_bytes(std::string_view bytes);

}  // namespace takehold::sensors
