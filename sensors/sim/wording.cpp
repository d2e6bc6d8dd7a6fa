#include "sensors/sim/wording.hpp"

#include <cstdio>
#include <optional>

namespace takehold::sensors {
namespace {

std::optional<std::string> two_decimals(std::optional<double> value) {
  if (!value) return std::nullopt;
  char text[32];
  std::snprintf(text, sizeof text, "%.2f", *value);
  return text;
}

std::string pair_text(const char* key, const std::optional<std::string>& value) {
  return value ? key + ("=" + *value) : "";
}

}  // namespace

std::string worded(const Decoded& says, Wording wording) {
  const auto degc =
      two_decimals(says.temperature ? std::optional(says.temperature->degc()) : std::nullopt);
  const auto pct = two_decimals(says.humidity ? std::optional(says.humidity->pct()) : std::nullopt);
  if (wording == Wording::json) {
    return "{\"temperature_degc\":" + degc.value_or("null") +
           ",\"humidity_pct\":" + pct.value_or("null") + "}";
  }
  const bool letters = wording == Wording::letters;
  const auto first = pair_text(letters ? "T" : "temperature", degc);
  const auto second = pair_text(letters ? "H" : "humidity", pct);
  return first + (first.empty() || second.empty() ? "" : " ") + second;
}

}  // namespace takehold::sensors
