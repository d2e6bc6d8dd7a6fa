#include "sensors/codec/json_map.hpp"

#include <cmath>
#include <nlohmann/json.hpp>

namespace takehold::sensors {
namespace {

using nlohmann::json;

Result<json::json_pointer> parse_pointer(const std::string& text) {
  try {
    return Result<json::json_pointer>(boost::system::in_place_value, text);
  } catch (const json::exception&) {
    return Problem{"bad-pointer", "not a JSON pointer", quote_bytes(text), "",
                   "write it as /name/0, with ~1 for a slash and ~0 for a tilde in a name"};
  }
}

Celsius as_temperature(double degc) {
  return Celsius::degc(degc);
}
RelativeHumidity as_humidity(double pct) {
  return RelativeHumidity::pct(pct);
}

/// The place pointed at, or null when the document has no such place.
const json* find(const json& document, const json::json_pointer& pointer) {
  try {
    return document.contains(pointer) ? &document.at(pointer) : nullptr;
  } catch (const json::exception&) {  // an array index such as "x" or "-"
    return nullptr;
  }
}

/// A missing value is an empty optional; a wrong one a Problem. `parse` reads it from text.
template <class Value>
Result<std::optional<Value>> take(const json& document, const std::optional<std::string>& where,
                                  Value (*make)(double), Result<Value> (*parse)(std::string_view)) {
  if (!where) return std::optional<Value>();
  const auto pointer = parse_pointer(*where);
  if (!pointer) return pointer.error();
  const json* const value = find(document, *pointer);
  if (value == nullptr || value->is_null()) return std::optional<Value>();
  if (value->is_string()) {
    const Result<Value> parsed = parse(value->get_ref<const std::string&>());
    if (!parsed) return parsed.error();
    return std::optional<Value>(*parsed);
  }
  if (!value->is_number() || !std::isfinite(value->get<double>())) {
    return Problem{"bad-number", "not a number", quote_bytes(value->type_name()), *where, ""};
  }
  return std::optional<Value>(make(value->get<double>()));
}

}  // namespace

Result<void> check(const JsonMap& map) {
  for (const auto* where : {&map.temperature, &map.humidity}) {
    if (!*where) continue;
    const auto pointer = parse_pointer(**where);
    if (!pointer) return pointer.error();
  }
  if (!map.temperature && !map.humidity) {
    return Problem{"no-pointers", "no place of a value is given", "", "",
                   "give temperature, humidity or both as JSON pointers"};
  }
  return {};
}

Result<Decoded> decode_json(const JsonMap& map, std::string_view text) {
  if (text.size() > kMaxJsonBytes) {
    return Problem{"too-long", "the document is too long", std::to_string(text.size()) + " bytes",
                   "", ""};
  }
  const json document = json::parse(text, nullptr, false);
  if (document.is_discarded()) return Problem{"bad-json", "not JSON", quote_bytes(text), "", ""};
  const auto temperature =
      take<Celsius>(document, map.temperature, as_temperature, &parse_temperature);
  if (!temperature) return temperature.error();
  const auto humidity =
      take<RelativeHumidity>(document, map.humidity, as_humidity, &parse_humidity);
  if (!humidity) return humidity.error();
  if (!*temperature && !*humidity) {
    return Problem{"no-values", "the document holds neither value", quote_bytes(text), "", ""};
  }
  return Decoded{*temperature, *humidity};
}

}  // namespace takehold::sensors
