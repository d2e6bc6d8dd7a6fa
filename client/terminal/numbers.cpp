#include "client/terminal/numbers.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <charconv>
#include <cmath>

namespace takehold::client {
namespace {

using sensors::Problem;

constexpr double kMetresInAFoot = 0.3048;
constexpr double kLowestLand = -500.0;   // m; the lowest shore lies at about -430
constexpr double kHighestLand = 9000.0;  // m

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && std::isspace(static_cast<unsigned char>(text.front())) != 0) {
    text.remove_prefix(1);
  }
  while (!text.empty() && std::isspace(static_cast<unsigned char>(text.back())) != 0) {
    text.remove_suffix(1);
  }
  return text;
}

Problem no_number(std::string_view text, std::string_view what) {
  return {"bad-number", fmt::format("'{}' is not a number", text), "", std::string(what), ""};
}

Problem unknown_unit(const TypedNumber& typed, std::string_view what, std::string_view known) {
  return {"unknown-unit", fmt::format("'{}' is not a unit known here", typed.suffix), "",
          std::string(what), fmt::format("write {}", known)};
}

Problem out_of_range(std::string_view text, std::string_view what, std::string_view range) {
  return {"out-of-range", fmt::format("{} is outside {}", text, range), "", std::string(what), ""};
}

std::string bare(sensors::Celsius temperature, Units units, int decimals) {
  return fixed(units == Units::us ? temperature.degf() : temperature.degc(), decimals);
}

const char* unit_of_temperature(Units units) {
  return units == Units::us ? " °F" : " °C";
}

std::string lower(std::string_view text) {
  std::string small(text);
  std::transform(small.begin(), small.end(), small.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return small;
}

}  // namespace

sensors::Result<TypedNumber> parse_typed(std::string_view text, std::string_view what) {
  std::string digits(trimmed(text));
  if (std::count(digits.begin(), digits.end(), ',') == 1 && digits.find('.') == std::string::npos) {
    std::replace(digits.begin(), digits.end(), ',', '.');
  }
  const char* begin = digits.data() + (digits.starts_with('+') ? 1 : 0);
  const char* end = digits.data() + digits.size();
  TypedNumber typed{0.0, ""};
  const auto [rest, error] = std::from_chars(begin, end, typed.value);
  if (error != std::errc{} || !std::isfinite(typed.value)) return no_number(text, what);
  typed.suffix = trimmed(std::string_view(rest, static_cast<std::size_t>(end - rest)));
  if (typed.suffix.starts_with("°")) typed.suffix = trimmed(typed.suffix.substr(2));
  return typed;
}

sensors::Result<sensors::Celsius> parse_temperature(std::string_view text, Units units,
                                                    std::string_view what) {
  const auto typed = parse_typed(text, what);
  if (!typed) return typed.error();
  const std::string suffix = lower(typed->suffix);
  const bool bare_us = suffix.empty() && units == Units::us;
  std::optional<sensors::Celsius> value;
  if (suffix == "f" || bare_us) {
    value = sensors::Celsius::degf(typed->value);
  } else if (suffix == "c" || suffix.empty()) {
    value = sensors::Celsius::degc(typed->value);
  } else {
    return unknown_unit(*typed, what, "24C or 75F");
  }
  if (value->kelvin() < 0.0)
    return out_of_range(text, what, "what can be: colder than absolute zero");
  return *value;
}

sensors::Result<sensors::Millimetres> parse_length(std::string_view text, Units units,
                                                   std::string_view what) {
  const auto typed = parse_typed(text, what);
  if (!typed) return typed.error();
  const std::string suffix = lower(typed->suffix);
  if (suffix == "in" || suffix == "\"" || (suffix.empty() && units == Units::us)) {
    return sensors::Millimetres::inch(typed->value);
  }
  if (suffix == "cm") return sensors::Millimetres::mm(typed->value * 10.0);
  if (suffix == "mm" || suffix.empty()) return sensors::Millimetres::mm(typed->value);
  return unknown_unit(*typed, what, "2.0mm or 0.08in");
}

sensors::Result<sensors::Kilograms> parse_mass(std::string_view text, Units units,
                                               std::string_view what) {
  constexpr double kOuncesInAPound = 16, kGramsInAKilogram = 1000;
  const auto typed = parse_typed(text, what);
  if (!typed) return typed.error();
  const std::string suffix = lower(typed->suffix);
  if (suffix == "lb" || (suffix.empty() && units == Units::us)) {
    return sensors::Kilograms::pounds(typed->value);
  }
  if (suffix == "oz") return sensors::Kilograms::pounds(typed->value / kOuncesInAPound);
  if (suffix == "g") return sensors::Kilograms::kg(typed->value / kGramsInAKilogram);
  if (suffix == "kg" || suffix.empty()) return sensors::Kilograms::kg(typed->value);
  return unknown_unit(*typed, what, "1.25kg, 850g or 2.5lb");
}

sensors::Result<sensors::RelativeHumidity> parse_humidity(std::string_view text,
                                                          std::string_view what) {
  const auto typed = parse_typed(text, what);
  if (!typed) return typed.error();
  if (!typed->suffix.empty() && typed->suffix != "%") {
    return unknown_unit(*typed, what, "90 or 90%");
  }
  if (typed->value < 0.0 || typed->value > 100.0) return out_of_range(text, what, "0 to 100 %");
  return sensors::RelativeHumidity::pct(typed->value);
}

sensors::Result<sensors::Altitude> parse_altitude(std::string_view text, Units units,
                                                  std::string_view what) {
  const auto typed = parse_typed(text, what);
  if (!typed) return typed.error();
  const std::string suffix = lower(typed->suffix);
  double metres = typed->value;
  if (suffix == "ft" || (suffix.empty() && units == Units::us)) {
    metres *= kMetresInAFoot;
  } else if (suffix != "m" && !suffix.empty()) {
    return unknown_unit(*typed, what, "120m or 400ft");
  }
  if (metres < kLowestLand || metres > kHighestLand) {
    return out_of_range(text, what, "-500 to 9000 m");
  }
  return sensors::Altitude::m(metres);
}

std::string fixed(double value, int decimals) {
  std::string text = fmt::format("{:.{}f}", value, decimals);
  if (text.starts_with('-') && text.find_first_of("123456789") == std::string::npos) {
    text.erase(0, 1);
  }
  return text;
}

std::string_view unit_of_length(Units units) {
  return units == Units::us ? "in" : "mm";
}

std::string bare(sensors::Millimetres length, Units units, int decimals) {
  // An inch is 25 times a millimetre: one decimal more loses nothing.
  return units == Units::us ? fixed(length.inch(), decimals + 1) : fixed(length.mm(), decimals);
}

std::string shown(sensors::Celsius temperature, Units units, int decimals) {
  return bare(temperature, units, decimals) + unit_of_temperature(units);
}

std::string shown(sensors::Celsius low, sensors::Celsius high, Units units, int decimals) {
  return bare(low, units, decimals) + " to " + shown(high, units, decimals);
}

std::string shown(sensors::Kilograms weight, Units units, int decimals) {
  return units == Units::us ? fixed(weight.pounds(), decimals) + " lb"
                            : fixed(weight.kg(), decimals) + " kg";
}

std::string shown(sensors::Millimetres length, Units units, int decimals) {
  return bare(length, units, decimals) + " " + std::string(unit_of_length(units));
}

std::string shown(sensors::RelativeHumidity humidity, int decimals) {
  return fixed(humidity.pct(), decimals) + " %";
}

std::string counted(long long count, std::string_view one, std::string_view many) {
  return fmt::format("{} {}", count, count == 1 ? one : many);
}

std::string chance(double probability) {
  const auto hundredths = std::llround(probability * 100.0);
  if (hundredths < 1) return "under 1 in 100";
  if (hundredths > 99) return "over 99 in 100";
  return fmt::format("{} in 100", hundredths);
}

}  // namespace takehold::client
