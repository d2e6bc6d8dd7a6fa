// Warnings and what happens to them, on the wire and as lines of a replay.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "daemon/api/problem_document.hpp"
#include "sensors/quantity/calendar.hpp"

namespace takehold::daemon {

/// A warning, standing or over: an element of GET /v1/warnings.
struct WarningMessage {
  std::string id;                    ///< "W1"
  std::string kind;                  ///< outside | drift | probe | conflict
  std::optional<std::string> cause;  ///< drying, warming ... ; silent, stuck ...
  std::optional<std::string> probe;  ///< null: the chamber's joint air
  std::string about;                 ///< temperature, humidity, vapour_pressure, or a batch
  sensors::Instant raised_at;
  std::optional<sensors::Instant> cleared_at;  ///< null: it stands
  std::optional<sensors::Instant> acknowledged_at;
  std::optional<sensors::Instant> shelved_until;
  std::optional<sensors::Instant> breach_at;  ///< of a drift
  std::optional<std::string> follows;         ///< the warning that foretold it
  std::string text;
};

void to_json(nlohmann::json& json, const WarningMessage& message);
sensors::Result<WarningMessage> warning_message_from(const nlohmann::json& json);

/// `{warnings:[...]}`
nlohmann::json warnings_json(const std::vector<WarningMessage>& warnings);
sensors::Result<std::vector<WarningMessage>> warnings_from(const nlohmann::json& json);

/// Something that happened: a line of a replay, and the data of /v1/live's events warning, cleared
/// and stage. `{at, event, id, kind, cause, probe, about, breach_at, follows, text}`
struct EventMessage {
  sensors::Instant at;
  std::string event;              ///< warning | cleared | stage
  std::optional<std::string> id;  ///< null: of a stage
  std::optional<std::string> kind;
  std::optional<std::string> cause;
  std::optional<std::string> probe;
  std::string about;
  std::optional<sensors::Instant> breach_at;
  std::optional<std::string> follows;
  std::string text;
};

void to_json(nlohmann::json& json, const EventMessage& message);
sensors::Result<EventMessage> event_message_from(const nlohmann::json& json);

/// The body of POST /v1/warnings/{id}/shelve: `{until}`, after `now`. 400, 422.
ApiResult<sensors::Instant> shelve_until_from(const std::string& body, sensors::Instant now);

}  // namespace takehold::daemon
