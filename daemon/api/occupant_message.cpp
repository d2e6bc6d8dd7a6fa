#include "daemon/api/occupant_message.hpp"

#include <algorithm>
#include <cctype>
#include <nlohmann/json.hpp>

#include "daemon/api/message_fields.hpp"
#include "daemon/api/quantity_json.hpp"
#include "daemon/healing/regime_json.hpp"

namespace takehold::daemon {
namespace {

using nlohmann::json;

/// 8-4-4-4-12 hexadecimal digits (RFC 9562).
bool is_uuid(const std::string& text) {
  if (text.size() != 36) return false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool dash = i == 8 || i == 13 || i == 18 || i == 23;
    const bool digit = std::isxdigit(static_cast<unsigned char>(text[i])) != 0;
    if (dash ? text[i] != '-' : !digit) return false;
  }
  return true;
}

void check(const JsonObject& object, const OccupantBody& body) {
  if (object.has("book") && !is_uuid(body.book)) {
    object.refuse("book", {"bad-uuid", "`book` must be a UUID", body.book, "", ""});
  }
  if (object.has("revision") && body.revision < 1) {
    object.refuse("revision", {"out-of-range", "revisions count from 1", "", "", ""});
  }
  if (body.count.value_or(0) < 0) {
    object.refuse("count", {"out-of-range", "`count` cannot be negative", "", "", ""});
  }
  if (body.left_at && *body.left_at < body.entered_at) {
    object.refuse("left_at", {"bad-span", "it cannot leave before it entered", "", "", ""});
  }
  if (body.events.size() > kMostEvents) {
    object.refuse("events", {"out-of-range", "at most 1000 events", "", "", ""});
  }
  if (!object.has("regime")) {
    object.refuse("regime", {"missing-field", "`regime` is missing", "", "", ""});
  }
}

OccupantBody body_from(const JsonObject& object) {
  OccupantBody body;
  body.book = object.need_text("book");
  body.revision = object.need_whole("revision");
  body.pairing = object.text("pairing").value_or("");
  body.count = object.whole("count");
  body.entered_at = object.need_instant("entered_at");
  body.left_at = object.instant("left_at");
  if (const auto regime = object.object("regime")) body.regime = regime_from(*regime);
  for (const auto& event : object.objects("events")) {
    body.events.push_back(manual_event_from(event));
  }
  check(object, body);
  return body;
}

}  // namespace

void to_json(json& out, const OccupantBody& body) {
  out = {{"book", body.book},
         {"revision", body.revision},
         {"pairing", body.pairing},
         {"count", json_of(body.count)},
         {"entered_at", sensors::to_string(body.entered_at)},
         {"left_at", json_of(body.left_at)}};
  out["regime"] = body.regime;
  out["events"] = body.events;
}

ApiResult<OccupantBody> occupant_body_from(const std::string& text) {
  const json value = json::parse(text, nullptr, false);
  if (value.is_discarded()) {
    return ApiProblem{400, {"bad-json", "the body is no JSON", "", "", ""}};
  }
  auto body = read_message<OccupantBody>(value, body_from);
  if (!body) return ApiProblem{422, body.error()};
  return *std::move(body);
}

OccupantMessage occupant_message(const std::string& label, const OccupantBody& body,
                                 sensors::Instant now) {
  OccupantMessage message;
  message.label = label;
  message.pairing = body.pairing;
  message.count = body.count;
  if (!body.book.empty()) {
    message.book = body.book;
    message.revision = body.revision;
  }
  message.entered_at = body.entered_at;
  message.left_at = body.left_at;
  message.regime = body.regime.name;
  // After it left, its stage is the one it left in.
  const auto moment = body.left_at ? std::min(now, *body.left_at) : now;
  const StageNow stage = stage_at(body.regime, body.entered_at, body.events, moment);
  message.stage = stage_name(body.regime, stage);
  if (!stage.over) message.where = to_string(body.regime.stages[stage.index].where);
  message.since = stage.since;
  message.next = stage.next;
  const ChamberAsks asks = chamber_asks(body.regime, stage);
  message.asks = asks.asks;
  message.kept = asks.kept;
  return message;
}

void to_json(json& out, const OccupantMessage& message) {
  out = {{"label", message.label},
         {"pairing", message.pairing},
         {"count", json_of(message.count)},
         {"book", json_of(message.book)},
         {"revision", json_of(message.revision)},
         {"entered_at", sensors::to_string(message.entered_at)},
         {"left_at", json_of(message.left_at)},
         {"regime", message.regime},
         {"stage", message.stage},
         {"where", json_of(message.where)},
         {"since_at", sensors::to_string(message.since)},
         {"next_at", json_of(message.next)},
         {"kept", message.kept}};
  out["asks"] = message.asks;
}

OccupantMessage occupant_fields(const JsonObject& object) {
  OccupantMessage message;
  message.label = object.need_text("label");
  message.pairing = object.text("pairing").value_or("");
  message.count = object.whole("count");
  message.book = object.text("book");
  message.revision = object.whole("revision");
  message.entered_at = object.need_instant("entered_at");
  message.left_at = object.instant("left_at");
  message.regime = object.need_text("regime");
  message.stage = object.need_text("stage");
  message.where = object.text("where");
  message.since = object.need_instant("since_at");
  message.next = object.instant("next_at");
  message.kept = object.flag("kept").value_or(false);
  if (const auto asks = object.object("asks")) message.asks = asks_from(*asks);
  return message;
}

sensors::Result<OccupantMessage> occupant_message_from(const json& value) {
  return read_message<OccupantMessage>(value, occupant_fields);
}

json occupants_json(const std::vector<OccupantMessage>& occupants) {
  json out = json::object();
  out["occupants"] = occupants;
  return out;
}

sensors::Result<std::vector<OccupantMessage>> occupants_from(const json& value) {
  return read_message<std::vector<OccupantMessage>>(value, [](const JsonObject& object) {
    std::vector<OccupantMessage> occupants;
    for (const auto& one : object.objects("occupants")) occupants.push_back(occupant_fields(one));
    return occupants;
  });
}

}  // namespace takehold::daemon
