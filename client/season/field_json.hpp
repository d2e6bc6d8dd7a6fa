// Nouns as JSON and back, by their field description.
//
//   nlohmann::json j = to_json(lot);      every field, null where unknown, in SI as the key says
//   Lot lot = from_json<Lot>(j);          unknown keys are ignored, missing ones keep the default
//
// from_json throws std::invalid_argument if a value is of another type than the field.
#pragma once

#include <nlohmann/json.hpp>
#include <stdexcept>
#include <string>
#include <type_traits>
#include <vector>

#include "client/season/field.hpp"
#include "client/season/words.hpp"
#include "sensors/quantity/calendar.hpp"
#include "sensors/quantity/length.hpp"
#include "sensors/quantity/mass.hpp"
#include "sensors/quantity/temperature.hpp"

namespace takehold::client {

template <class T>
nlohmann::json to_json(const T& noun);
template <class T>
T from_json(const nlohmann::json& json);

/// One member's value as JSON and back. Specialised by what the member is.
template <class T, class = void>
struct FieldJson {  // a struct with visit_fields
  static nlohmann::json write(const T& value) { return to_json(value); }
  static T read(const nlohmann::json& json) { return from_json<T>(json); }
};

template <class T>
struct FieldJson<T, std::enable_if_t<std::is_arithmetic_v<T> || std::is_same_v<T, std::string>>> {
  static nlohmann::json write(const T& value) { return value; }
  static T read(const nlohmann::json& json) { return json.get<T>(); }
};

template <class T>
struct FieldJson<T, std::enable_if_t<std::is_enum_v<T>>> {
  static nlohmann::json write(const T& value) { return std::string(to_text(value)); }
  static T read(const nlohmann::json& json) {
    const auto word = json.get<std::string>();
    if (const auto value = from_text<T>(word)) return *value;
    throw std::invalid_argument("\"" + word + "\" is none of " + choices<T>());
  }
};

template <>
struct FieldJson<sensors::Day> {
  static nlohmann::json write(sensors::Day value) { return sensors::to_string(value); }
  static sensors::Day read(const nlohmann::json& json) {
    return sensors::parse_day(json.get<std::string>()).value();
  }
};

template <>
struct FieldJson<sensors::Instant> {
  static nlohmann::json write(sensors::Instant value) { return sensors::to_string(value); }
  static sensors::Instant read(const nlohmann::json& json) {
    return sensors::parse_instant(json.get<std::string>()).value();
  }
};

template <>
struct FieldJson<sensors::Celsius> {
  static nlohmann::json write(sensors::Celsius value) { return value.degc(); }
  static sensors::Celsius read(const nlohmann::json& json) {
    return sensors::Celsius::degc(json.get<double>());
  }
};

template <>
struct FieldJson<sensors::Millimetres> {
  static nlohmann::json write(sensors::Millimetres value) { return value.mm(); }
  static sensors::Millimetres read(const nlohmann::json& json) {
    return sensors::Millimetres::mm(json.get<double>());
  }
};

template <>
struct FieldJson<sensors::Kilograms> {
  static nlohmann::json write(sensors::Kilograms value) { return value.kg(); }
  static sensors::Kilograms read(const nlohmann::json& json) {
    return sensors::Kilograms::kg(json.get<double>());
  }
};

template <class T>
struct FieldJson<std::optional<T>> {
  static nlohmann::json write(const std::optional<T>& value) {
    return value ? FieldJson<T>::write(*value) : nlohmann::json();
  }
  static std::optional<T> read(const nlohmann::json& json) {
    if (json.is_null()) return std::nullopt;
    return FieldJson<T>::read(json);
  }
};

template <class T>
struct FieldJson<std::vector<T>> {
  static nlohmann::json write(const std::vector<T>& values) {
    auto list = nlohmann::json::array();
    for (const T& value : values) list.push_back(FieldJson<T>::write(value));
    return list;
  }
  static std::vector<T> read(const nlohmann::json& json) {
    std::vector<T> values;
    for (const auto& item : json) values.push_back(FieldJson<T>::read(item));
    return values;
  }
};

template <class T>
nlohmann::json to_json(const T& noun) {
  auto json = nlohmann::json::object();
  auto write = [&json](const Field& f, const auto& member) {
    json[std::string(f.name)] = FieldJson<std::remove_cvref_t<decltype(member)>>::write(member);
  };
  visit_fields(write, noun);
  return json;
}

template <class T>
T from_json(const nlohmann::json& json) {
  T noun;
  auto read = [&json](const Field& f, auto& member) {
    if (const auto it = json.find(std::string(f.name)); it != json.end())
      member = FieldJson<std::remove_cvref_t<decltype(member)>>::read(*it);
  };
  visit_fields(read, noun);
  return noun;
}

}  // namespace takehold::client
