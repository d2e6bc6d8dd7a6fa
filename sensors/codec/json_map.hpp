// JSON, a document (an HTTP body) or one line of JSON Lines, read by JSON Pointers (RFC 6901).
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "sensors/codec/decoded.hpp"

namespace takehold::sensors {

/// Where the values stand, such as "/sensors/0/t"; "" is the whole document; none: the probe does
/// not tell that quantity.
struct JsonMap {
  std::optional<std::string> temperature = "/temperature_degc";
  std::optional<std::string> humidity = "/humidity_pct";
  std::optional<std::string> leaf_temperature = std::nullopt;
  std::optional<std::string> co2 = std::nullopt;
  std::optional<std::string> light = std::nullopt;
};

/// Every quantity under the key that Takehold itself uses: temperature_degc, humidity_pct,
/// leaf_temperature_degc, co2_ppm, light_umol.
JsonMap own_keys();

/// The most bytes of a document that are looked at; a longer one is refused unread.
inline constexpr std::size_t kMaxJsonBytes = 64 * 1024;

/// A pointer that RFC 6901 does not allow: code "bad-pointer"; no pointer at all: "no-pointers".
Result<void> check(const JsonMap& map);

/// A value is a number or a text holding one; null and absent are missing. Codes "too-long",
/// "bad-json", "no-values" when no value is there, "bad-number", "bad-unit", "bad-pointer".
Result<Decoded> decode_json(const JsonMap& map, std::string_view document);

}  // namespace takehold::sensors
