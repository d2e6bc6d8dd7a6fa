#include "sensors/codec/told.hpp"

namespace takehold::sensors {
namespace {

template <class Value>
Result<void> take(std::optional<Value>& into, const Result<Value>& parsed) {
  if (!parsed) return parsed.error();
  into = *parsed;
  return {};
}

}  // namespace

void put(Decoded& decoded, Told told, double value) {
  switch (told) {
    case Told::temperature:
      decoded.temperature = Celsius::degc(value);
      return;
    case Told::humidity:
      decoded.humidity = RelativeHumidity::pct(value);
      return;
    case Told::leaf_temperature:
      decoded.extras.leaf_temperature = Celsius::degc(value);
      return;
    case Told::co2:
      decoded.extras.co2 = CarbonDioxide::ppm(value);
      return;
    case Told::light:
      decoded.extras.light = PhotonFlux::umol(value);
      return;
  }
}

Result<void> put(Decoded& decoded, Told told, std::string_view text) {
  switch (told) {
    case Told::temperature:
      return take(decoded.temperature, parse_temperature(text));
    case Told::humidity:
      return take(decoded.humidity, parse_humidity(text));
    case Told::leaf_temperature:
      return take(decoded.extras.leaf_temperature, parse_temperature(text));
    case Told::co2:
      return take(decoded.extras.co2, parse_co2(text));
    case Told::light:
      return take(decoded.extras.light, parse_light(text));
  }
  return {};
}

bool has(const Decoded& decoded, Told told) {
  switch (told) {
    case Told::temperature:
      return decoded.temperature.has_value();
    case Told::humidity:
      return decoded.humidity.has_value();
    case Told::leaf_temperature:
      return decoded.extras.leaf_temperature.has_value();
    case Told::co2:
      return decoded.extras.co2.has_value();
    case Told::light:
      return decoded.extras.light.has_value();
  }
  return false;
}

}  // namespace takehold::sensors
