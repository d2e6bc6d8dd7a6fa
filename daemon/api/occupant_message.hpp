// Batches in the chamber, on the wire.
#pragma once

#include <cstdint>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "daemon/api/problem_document.hpp"
#include "daemon/healing/asks.hpp"
#include "daemon/healing/regime.hpp"

namespace takehold::daemon {

/// The body of PUT /v1/occupants/{label}: everything about a batch that the chamber must know.
/// The whole regime travels, so that a file edited later changes no running batch.
struct OccupantBody {
  std::string book;           ///< the book's identity, a UUID
  std::int64_t revision = 0;  ///< rises per label, from 1
  std::string pairing;
  std::optional<std::int64_t> count;
  sensors::Instant entered_at;
  std::optional<sensors::Instant> left_at;
  Regime regime;
  std::vector<ManualEvent> events;

  friend bool operator==(const OccupantBody&, const OccupantBody&) = default;
};
inline constexpr std::size_t kMostEvents = 1000;

void to_json(nlohmann::json& json, const OccupantBody& body);

/// 400 "bad-json"; 422 with the first mistake, its place as a JSON Pointer.
ApiResult<OccupantBody> occupant_body_from(const std::string& body);

/// An occupant as GET shows it: what was put, and what follows from it now.
struct OccupantMessage {
  std::string label;
  std::string pairing;
  std::optional<std::int64_t> count;
  std::optional<std::string> book;       ///< null: from the settings, read-only
  std::optional<std::int64_t> revision;  ///< null likewise
  sensors::Instant entered_at;
  std::optional<sensors::Instant> left_at;
  std::string regime;                ///< its name
  std::string stage;                 ///< its name, or "done"
  std::optional<std::string> where;  ///< of the stage: chamber or bench; null once done
  sensors::Instant since;
  std::optional<sensors::Instant> next;
  Asks asks;
  bool kept = false;  ///< the stage stands on the bench: `asks` are the last of the chamber
};

/// `book` and `revision` are null when the settings brought it.
OccupantMessage occupant_message(const std::string& label, const OccupantBody& body,
                                 sensors::Instant now);
void to_json(nlohmann::json& json, const OccupantMessage& message);
sensors::Result<OccupantMessage> occupant_message_from(const nlohmann::json& json);

/// `{occupants:[...]}`
nlohmann::json occupants_json(const std::vector<OccupantMessage>& occupants);
sensors::Result<std::vector<OccupantMessage>> occupants_from(const nlohmann::json& json);

}  // namespace takehold::daemon
