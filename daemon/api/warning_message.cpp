#include "daemon/api/warning_message.hpp"

#include <nlohmann/json.hpp>

#include "daemon/api/message_fields.hpp"
#include "daemon/api/quantity_json.hpp"

namespace takehold::daemon {

using nlohmann::json;

void to_json(json& out, const WarningMessage& message) {
  out = {{"id", message.id},
         {"kind", message.kind},
         {"cause", json_of(message.cause)},
         {"probe", json_of(message.probe)},
         {"about", message.about},
         {"raised_at", sensors::to_string(message.raised_at)},
         {"cleared_at", json_of(message.cleared_at)},
         {"acknowledged_at", json_of(message.acknowledged_at)},
         {"shelved_until_at", json_of(message.shelved_until)},
         {"breach_at", json_of(message.breach_at)},
         {"follows", json_of(message.follows)},
         {"text", message.text}};
}

WarningMessage warning_fields(const JsonObject& object) {
  return {object.need_text("id"),
          object.need_text("kind"),
          object.text("cause"),
          object.text("probe"),
          object.need_text("about"),
          object.need_instant("raised_at"),
          object.instant("cleared_at"),
          object.instant("acknowledged_at"),
          object.instant("shelved_until_at"),
          object.instant("breach_at"),
          object.text("follows"),
          object.text("text").value_or("")};
}

sensors::Result<WarningMessage> warning_message_from(const json& value) {
  return read_message<WarningMessage>(value, warning_fields);
}

json warnings_json(const std::vector<WarningMessage>& warnings) {
  json out = json::object();
  out["warnings"] = warnings;
  return out;
}

sensors::Result<std::vector<WarningMessage>> warnings_from(const json& value) {
  return read_message<std::vector<WarningMessage>>(value, [](const JsonObject& object) {
    std::vector<WarningMessage> warnings;
    for (const auto& one : object.objects("warnings")) warnings.push_back(warning_fields(one));
    return warnings;
  });
}

void to_json(json& out, const EventMessage& message) {
  out = {{"at", sensors::to_string(message.at)},
         {"event", message.event},
         {"id", json_of(message.id)},
         {"kind", json_of(message.kind)},
         {"cause", json_of(message.cause)},
         {"probe", json_of(message.probe)},
         {"about", message.about},
         {"breach_at", json_of(message.breach_at)},
         {"follows", json_of(message.follows)},
         {"text", message.text}};
}

sensors::Result<EventMessage> event_message_from(const json& value) {
  return read_message<EventMessage>(value, [](const JsonObject& object) {
    return EventMessage{object.need_instant("at"),
                        object.need_text("event"),
                        object.text("id"),
                        object.text("kind"),
                        object.text("cause"),
                        object.text("probe"),
                        object.text("about").value_or(""),
                        object.instant("breach_at"),
                        object.text("follows"),
                        object.text("text").value_or("")};
  });
}

ApiResult<sensors::Instant> shelve_until_from(const std::string& body, sensors::Instant now) {
  const json value = json::parse(body, nullptr, false);
  if (value.is_discarded()) {
    return ApiProblem{400, {"bad-json", "the body is no JSON", "", "", ""}};
  }
  std::vector<sensors::Problem> mistakes;
  const JsonObject object(value, mistakes);
  const auto until = object.need_instant("until");
  if (mistakes.empty() && until <= now) {
    object.refuse("until", {"bad-span", "a warning is put off until a time to come", "", "", ""});
  }
  if (!mistakes.empty()) return ApiProblem{422, mistakes.front()};
  return until;
}

}  // namespace takehold::daemon
