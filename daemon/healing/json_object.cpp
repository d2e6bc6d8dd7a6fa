#include "daemon/healing/json_object.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <nlohmann/json.hpp>

namespace takehold::daemon {
namespace {

using nlohmann::json;

const json& empty_object() {
  static const json empty = json::object();
  return empty;
}

std::string key_title(const char* key, const char* says) {
  return "`" + std::string(key) + "` " + says;
}

}  // namespace

JsonObject::JsonObject(const json& value, std::vector<sensors::Problem>& mistakes,
                       std::string pointer)
    : json_(&value), mistakes_(&mistakes), pointer_(std::move(pointer)) {
  if (json_->is_object()) return;
  mistakes_->push_back({"wrong-type", "an object is needed here",
                        "it is " + std::string(json_->type_name()), pointer_, ""});
  json_ = &empty_object();
}

const json* JsonObject::value(const char* key) const {
  const auto found = json_->find(key);
  return found == json_->end() || found->is_null() ? nullptr : &*found;
}

bool JsonObject::has(const char* key) const {
  return value(key) != nullptr;
}

void JsonObject::refuse(const char* key, sensors::Problem problem) const {
  problem.where = pointer(key);
  mistakes_->push_back(std::move(problem));
}

std::nullopt_t JsonObject::wrong_type(const char* key, const char* wanted) const {
  refuse(key, {"wrong-type", key_title(key, "must be ") + wanted,
               "it is " + std::string(value(key)->type_name()), "", ""});
  return std::nullopt;
}

std::optional<std::string> JsonObject::text(const char* key) const {
  const json* found = value(key);
  if (found == nullptr) return std::nullopt;
  if (!found->is_string()) return wrong_type(key, "text");
  return found->get<std::string>();
}

std::optional<std::int64_t> JsonObject::whole(const char* key) const {
  const json* found = value(key);
  if (found == nullptr) return std::nullopt;
  if (!found->is_number_integer()) return wrong_type(key, "a whole number");
  if (found->is_number_unsigned() &&
      found->get<std::uint64_t>() > static_cast<std::uint64_t>(INT64_MAX)) {
    refuse(key, {"out-of-range", key_title(key, "is too large"), "", "", ""});
    return std::nullopt;
  }
  return found->get<std::int64_t>();
}

std::optional<double> JsonObject::number(const char* key) const {
  const json* found = value(key);
  if (found == nullptr) return std::nullopt;
  if (!found->is_number()) return wrong_type(key, "a number");
  const double number = found->get<double>();
  if (std::isfinite(number)) return number;
  refuse(key, {"out-of-range", key_title(key, "is too large"), "", "", ""});
  return std::nullopt;
}

std::optional<bool> JsonObject::flag(const char* key) const {
  const json* found = value(key);
  if (found == nullptr) return std::nullopt;
  if (!found->is_boolean()) return wrong_type(key, "true or false");
  return found->get<bool>();
}

std::optional<sensors::Instant> JsonObject::instant(const char* key) const {
  const auto written = text(key);
  if (!written) return std::nullopt;
  const auto parsed = sensors::parse_instant(*written);
  if (parsed) return *parsed;
  refuse(key, parsed.error());
  return std::nullopt;
}

std::optional<sensors::Day> JsonObject::day(const char* key) const {
  const auto written = text(key);
  if (!written) return std::nullopt;
  const auto parsed = sensors::parse_day(*written);
  if (parsed) return *parsed;
  refuse(key, parsed.error());
  return std::nullopt;
}

std::optional<JsonObject> JsonObject::object(const char* key) const {
  const json* found = value(key);
  if (found == nullptr) return std::nullopt;
  return JsonObject(*found, *mistakes_, pointer(key));
}

std::vector<JsonObject> JsonObject::objects(const char* key) const {
  std::vector<JsonObject> objects;
  const json* found = value(key);
  if (found == nullptr) return objects;
  if (!found->is_array()) {
    wrong_type(key, "a list");
    return objects;
  }
  for (std::size_t i = 0; i < found->size(); ++i) {
    objects.push_back(JsonObject((*found)[i], *mistakes_, pointer(key) + "/" + std::to_string(i)));
  }
  return objects;
}

std::vector<std::string> JsonObject::texts(const char* key) const {
  std::vector<std::string> texts;
  const json* found = value(key);
  if (found == nullptr) return texts;
  const bool are_texts =
      found->is_array() &&
      std::all_of(found->begin(), found->end(), [](const json& j) { return j.is_string(); });
  if (!are_texts) {
    wrong_type(key, "a list of texts");
    return texts;
  }
  return found->get<std::vector<std::string>>();
}

std::optional<std::pair<double, double>> JsonObject::pair(const char* key) const {
  const json* found = value(key);
  if (found == nullptr) return std::nullopt;
  const bool fits =
      found->is_array() && found->size() == 2 && (*found)[0].is_number() && (*found)[1].is_number();
  if (!fits) return wrong_type(key, "[low, high]");
  const std::pair ends((*found)[0].get<double>(), (*found)[1].get<double>());
  if (std::isfinite(ends.first) && std::isfinite(ends.second) && ends.first <= ends.second) {
    return ends;
  }
  refuse(key, {"bad-band", key_title(key, "must be [low, high]"), "", "", ""});
  return std::nullopt;
}

template <class T>
T JsonObject::need(std::optional<T> found, const char* key) const {
  if (!found && !has(key)) {
    refuse(key, {"missing-field", key_title(key, "is missing"), "", "", ""});
  }
  return found ? std::move(*found) : T{};
}

std::string JsonObject::need_text(const char* key) const {
  return need(text(key), key);
}
std::int64_t JsonObject::need_whole(const char* key) const {
  return need(whole(key), key);
}
double JsonObject::need_number(const char* key) const {
  return need(number(key), key);
}
sensors::Instant JsonObject::need_instant(const char* key) const {
  return need(instant(key), key);
}

}  // namespace takehold::daemon
