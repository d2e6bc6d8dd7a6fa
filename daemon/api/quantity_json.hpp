// Quantities that may be missing, to and from JSON. Only for the sources of this folder.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>

#include "daemon/healing/band.hpp"
#include "daemon/healing/json_object.hpp"

namespace takehold::daemon {

template <class Q>
nlohmann::json json_of(const std::optional<Q>& quantity) {
  return quantity ? nlohmann::json(number_of(*quantity)) : nlohmann::json(nullptr);
}
inline nlohmann::json json_of(const std::optional<sensors::Instant>& instant) {
  return instant ? nlohmann::json(sensors::to_string(*instant)) : nlohmann::json(nullptr);
}
inline nlohmann::json json_of(const std::optional<std::string>& text) {
  return text ? nlohmann::json(*text) : nlohmann::json(nullptr);
}
inline nlohmann::json json_of(const std::optional<std::int64_t>& number) {
  return number ? nlohmann::json(*number) : nlohmann::json(nullptr);
}

template <class Q>
std::optional<Q> quantity_from(const JsonObject& object, const char* key) {
  const auto number = object.number(key);
  if (!number) return std::nullopt;
  return quantity_of<Q>(*number);
}

/// `read` fills the message from the object; the first mistake is the error.
template <class Message, class Read>
sensors::Result<Message> read_message(const nlohmann::json& json, Read read) {
  std::vector<sensors::Problem> mistakes;
  Message message = read(JsonObject(json, mistakes));
  if (!mistakes.empty()) return mistakes.front();
  return message;
}

}  // namespace takehold::daemon
