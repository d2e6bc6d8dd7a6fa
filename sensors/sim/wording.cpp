#include "sensors/sim/wording.hpp"

#include <cstdio>
#include <optional>
#include <vector>

namespace takehold::sensors {
namespace {

std::optional<std::string> two_decimals(std::optional<double> value) {
  if (!value) return std::nullopt;
  char text[32];
  std::snprintf(text, sizeof text, "%.2f", *value);
  return text;
}

struct Told {
  const char* letter;
  const char* key;
  const char* json;
  std::optional<std::string> value;
};

template <class Quantity>
std::optional<double> number(const std::optional<Quantity>& value,
                             double (Quantity::*unit)() const) {
  if (!value) return std::nullopt;
  return ((*value).*unit)();
}

std::vector<Told> told_values(const Decoded& says) {
  const auto& [leaf, co2, light] = says.extras;
  std::vector<Told> all = {{"T", "temperature", "temperature_degc",
                            two_decimals(number(says.temperature, &Celsius::degc))},
                           {"H", "humidity", "humidity_pct",
                            two_decimals(number(says.humidity, &RelativeHumidity::pct))}};
  if (!says.extras.any()) return all;
  all.push_back({"L", "leaf_temperature", "leaf_temperature_degc",
                 two_decimals(number(leaf, &Celsius::degc))});
  all.push_back({"C", "co2", "co2_ppm", two_decimals(number(co2, &CarbonDioxide::ppm))});
  all.push_back({"Q", "light", "light_umol", two_decimals(number(light, &PhotonFlux::umol))});
  return all;
}

}  // namespace

std::string worded(const Decoded& says, Wording wording) {
  std::string text;
  for (const auto& [letter, key, json, value] : told_values(says)) {
    if (wording == Wording::json) {
      text += (text.empty() ? "{\"" : ",\"") + std::string(json) + "\":" + value.value_or("null");
    } else if (value) {
      text += (text.empty() ? "" : " ") + std::string(wording == Wording::letters ? letter : key) +
              "=" + *value;
    }
  }
  return wording == Wording::json ? text + "}" : text;
}

}  // namespace takehold::sensors
