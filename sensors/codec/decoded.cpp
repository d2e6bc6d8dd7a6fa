#include "sensors/codec/decoded.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstdio>

namespace takehold::sensors {
namespace {

constexpr std::size_t kQuotedBytes = 60;

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view kBlanks = " \t\r\n";
  const auto first = text.find_first_not_of(kBlanks);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(kBlanks) - first + 1);
}

Problem bad_number(std::string_view text) {
  return {"bad-number", "not a number", quote_bytes(text), "", ""};
}

struct Measured {
  double value;
  std::string_view unit;
};

/// The number at the front of `text` and whatever stands after it.
Result<Measured> split_unit(std::string_view text) {
  text = trimmed(text);
  const auto end = text.find_first_not_of("0123456789+-.,eE");
  const auto number = parse_number(text.substr(0, end));
  if (!number) return bad_number(text);
  const auto unit = end == std::string_view::npos ? std::string_view() : text.substr(end);
  return Measured{*number, trimmed(unit)};
}

Problem bad_unit(std::string_view unit, std::string hint) {
  return {"bad-unit", "unknown unit", quote_bytes(unit), "", std::move(hint)};
}

}  // namespace

Result<double> parse_number(std::string_view text) {
  std::string digits(trimmed(text));
  if (digits.starts_with('+') && !digits.starts_with("+-")) digits.erase(0, 1);
  const bool has_point = digits.find('.') != std::string::npos;
  if (!has_point && std::count(digits.begin(), digits.end(), ',') == 1) {
    digits[digits.find(',')] = '.';
  }
  double value = 0.0;
  const char* const end = digits.data() + digits.size();
  const auto [stop, error] = std::from_chars(digits.data(), end, value);
  if (error != std::errc() || stop != end || !std::isfinite(value)) return bad_number(text);
  return value;
}

Result<Celsius> parse_temperature(std::string_view text) {
  const auto measured = split_unit(text);
  if (!measured) return measured.error();
  const auto unit = measured->unit;
  if (unit.empty() || unit == "C" || unit == "degC" || unit == "\u00b0C") {
    return Celsius::degc(measured->value);
  }
  if (unit == "F" || unit == "degF" || unit == "\u00b0F") return Celsius::degf(measured->value);
  return bad_unit(unit, "a temperature is in C or F");
}

Result<RelativeHumidity> parse_humidity(std::string_view text) {
  const auto measured = split_unit(text);
  if (!measured) return measured.error();
  const auto unit = measured->unit;
  if (unit.empty() || unit == "%" || unit == "%RH") return RelativeHumidity::pct(measured->value);
  return bad_unit(unit, "a humidity is in %");
}

Result<CarbonDioxide> parse_co2(std::string_view text) {
  const auto measured = split_unit(text);
  if (!measured) return measured.error();
  const auto unit = measured->unit;
  if (unit.empty() || unit == "ppm") return CarbonDioxide::ppm(measured->value);
  return bad_unit(unit, "carbon dioxide is in ppm");
}

Result<PhotonFlux> parse_light(std::string_view text) {
  const auto measured = split_unit(text);
  if (!measured) return measured.error();
  const auto unit = measured->unit;
  if (unit.empty() || unit == "umol" || unit == "\u00b5mol") {
    return PhotonFlux::umol(measured->value);
  }
  return bad_unit(unit, "light is in umol");
}

std::string quote_bytes(std::string_view bytes) {
  std::string text = "\"";
  for (const char c : bytes.substr(0, kQuotedBytes)) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte >= 0x20 && byte < 0x7f) {
      text += c;
      continue;
    }
    char escaped[5];
    std::snprintf(escaped, sizeof escaped, "\\x%02x", unsigned(byte));
    text += escaped;
  }
  return text + (bytes.size() > kQuotedBytes ? "...\"" : "\"");
}

}  // namespace takehold::sensors
