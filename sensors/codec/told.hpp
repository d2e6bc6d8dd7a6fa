// The quantities a probe may tell, as every wire format and the settings name them.
//
// A format's map says where each stands ("/t", "T", a register), in members of these names; what it
// leaves out the probe does not tell.
#pragma once

#include <array>
#include <string_view>

#include "sensors/codec/decoded.hpp"

namespace takehold::sensors {

enum class Told { temperature, humidity, leaf_temperature, co2, light };
inline constexpr std::array kAllTold = {Told::temperature, Told::humidity, Told::leaf_temperature,
                                        Told::co2, Told::light};

/// "temperature", "humidity", "leaf_temperature", "co2", "light": keys of the settings and names of
/// a pattern's groups.
constexpr const char* to_string(Told told) {
  constexpr const char* kNames[] = {"temperature", "humidity", "leaf_temperature", "co2", "light"};
  return kNames[static_cast<int>(told)];
}

/// The member of `map` for that quantity, an optional.
template <class Map>
constexpr auto& place_of(Map& map, Told told) {
  switch (told) {
    case Told::temperature:
      return map.temperature;
    case Told::humidity:
      return map.humidity;
    case Told::leaf_temperature:
      return map.leaf_temperature;
    case Told::co2:
      return map.co2;
    case Told::light:
      return map.light;
  }
  return map.temperature;
}

/// Whether no place of any quantity is given.
template <class Map>
bool tells_nothing(const Map& map) {
  for (const auto told : kAllTold) {
    if (place_of(map, told)) return false;
  }
  return true;
}

/// Takes a value in degC, percent, ppm or µmol m-2 s-1.
void put(Decoded& decoded, Told told, double value);
/// Takes a value with or without its unit: degrees as parse_temperature, percent as parse_humidity,
/// "800 ppm", "120 umol". Codes "bad-number", "bad-unit".
Result<void> put(Decoded& decoded, Told told, std::string_view text);
bool has(const Decoded& decoded, Told told);

}  // namespace takehold::sensors
