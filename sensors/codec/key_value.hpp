// Lines such as "temperature=23.4 humidity=95.1".
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "sensors/codec/decoded.hpp"

namespace takehold::sensors {

/// The keys a probe uses; none: the probe does not tell that quantity.
struct KeyValueMap {
  std::optional<std::string> temperature = "temperature";
  std::optional<std::string> humidity = "humidity";
  std::optional<std::string> leaf_temperature = std::nullopt;
  std::optional<std::string> co2 = std::nullopt;
  std::optional<std::string> light = std::nullopt;
};

/// Pairs are parted by blanks, ';' or ',' (a comma between two digits is a decimal comma); other
/// words and keys are passed over; of a key given twice the first counts. Codes "no-values" when
/// none of the keys is there, "bad-number", "bad-unit".
Result<Decoded> decode_key_value(const KeyValueMap& map, std::string_view line);

}  // namespace takehold::sensors
