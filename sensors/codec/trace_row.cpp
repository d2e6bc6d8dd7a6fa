#include "sensors/codec/trace_row.hpp"

#include <array>
#include <cstdio>
#include <optional>

#include "sensors/codec/decoded.hpp"

namespace takehold::sensors {
namespace {

constexpr std::size_t kFields = 4;

Result<std::array<std::string_view, kFields>> fields_of(std::string_view line) {
  if (line.ends_with('\r')) line.remove_suffix(1);
  std::array<std::string_view, kFields> fields;
  std::size_t found = 0;
  for (std::size_t at = 0;; ++found) {
    const auto comma = line.find(',', at);
    if (found < kFields) fields[found] = line.substr(at, comma - at);
    if (comma == std::string_view::npos) break;
    at = comma + 1;
  }
  if (found + 1 != kFields) {
    return Problem{"bad-row", "not a row of four fields", quote_bytes(line), "",
                   std::string(kTraceHead)};
  }
  return fields;
}

Result<std::optional<double>> number_or_missing(std::string_view field) {
  if (field.empty()) return std::optional<double>();
  const auto number = parse_number(field);
  if (!number) return number.error();
  return std::optional<double>(*number);
}

std::string two_decimals(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.2f", value);
  return text;
}

}  // namespace

Result<Reading> parse_trace_row(std::string_view line) {
  const auto fields = fields_of(line);
  if (!fields) return fields.error();
  const auto& [at_text, probe, temperature_text, humidity_text] = *fields;
  const auto at = parse_instant(at_text);
  if (!at) return at.error();
  if (probe.empty())
    return Problem{"no-probe", "the row names no probe", quote_bytes(line), "", ""};
  const auto temperature = number_or_missing(temperature_text);
  if (!temperature) return temperature.error();
  const auto humidity = number_or_missing(humidity_text);
  if (!humidity) return humidity.error();
  Reading reading{std::string(probe), *at, std::nullopt, std::nullopt, Quality::good};
  if (*temperature) reading.temperature = Celsius::degc(**temperature);
  if (*humidity) reading.humidity = RelativeHumidity::pct(**humidity);
  if (!reading.temperature && !reading.humidity) reading.quality = Quality::none;
  return reading;
}

std::string format_trace_row(const Reading& reading) {
  std::string row = to_string(reading.at) + "," + reading.probe + ",";
  if (reading.temperature) row += two_decimals(reading.temperature->degc());
  row += ",";
  if (reading.humidity) row += two_decimals(reading.humidity->pct());
  return row;
}

}  // namespace takehold::sensors
