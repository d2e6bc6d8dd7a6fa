#include "sensors/codec/json_map.hpp"

#include <cmath>
#include <nlohmann/json.hpp>

#include "sensors/codec/told.hpp"

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

/// The place pointed at, or null when the document has no such place.
const json* find(const json& document, const json::json_pointer& pointer) {
  try {
    return document.contains(pointer) ? &document.at(pointer) : nullptr;
  } catch (const json::exception&) {  // an array index such as "x" or "-"
    return nullptr;
  }
}

/// Missing is no mistake.
Result<void> take(const json& document, const std::string& where, Told told, Decoded& decoded) {
  const auto pointer = parse_pointer(where);
  if (!pointer) return pointer.error();
  const json* const value = find(document, *pointer);
  if (value == nullptr || value->is_null()) return {};
  if (value->is_string()) return put(decoded, told, value->get_ref<const std::string&>());
  if (!value->is_number() || !std::isfinite(value->get<double>())) {
    return Problem{"bad-number", "not a number", quote_bytes(value->type_name()), where, ""};
  }
  put(decoded, told, value->get<double>());
  return {};
}

}  // namespace

JsonMap own_keys() {
  return {"/temperature_degc", "/humidity_pct", "/leaf_temperature_degc", "/co2_ppm",
          "/light_umol"};
}

Result<void> check(const JsonMap& map) {
  for (const auto told : kAllTold) {
    const auto& where = place_of(map, told);
    if (!where) continue;
    const auto pointer = parse_pointer(*where);
    if (!pointer) return pointer.error();
  }
  if (tells_nothing(map)) {
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
  Decoded decoded;
  for (const auto told : kAllTold) {
    const auto& where = place_of(map, told);
    if (!where) continue;
    if (const auto taken = take(document, *where, told, decoded); !taken) return taken.error();
  }
  if (decoded.is_empty()) {
    return Problem{"no-values", "the document holds no value", quote_bytes(text), "", ""};
  }
  return decoded;
}

}  // namespace takehold::sensors
