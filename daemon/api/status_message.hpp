// GET /v1/status: the chamber now, whole.
#pragma once

#include <cstdint>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "daemon/api/occupant_message.hpp"
#include "daemon/api/reading_message.hpp"
#include "daemon/api/route.hpp"
#include "daemon/api/warning_message.hpp"
#include "daemon/healing/asks.hpp"

namespace takehold::daemon {

/// The chamber's joint air: the mean of trusted probes.
struct AirMessage {
  std::optional<sensors::Instant> at;  ///< null: no trusted reading yet
  std::optional<sensors::Celsius> temperature;
  std::optional<sensors::RelativeHumidity> humidity;
  std::optional<sensors::Pressure> vapour_pressure;
  std::optional<sensors::Pressure> vapour_deficit;
  std::optional<sensors::Celsius> dew_point;
  sensors::Extras extras = {};  ///< means of what trusted probes of the chamber tell
  std::optional<sensors::Pressure> leaf_vapour_deficit = std::nullopt;
};

struct ProbeMessage {
  std::string name;
  std::string place;                   ///< "chamber", or a bench's name
  std::string kind;                    ///< serial | http | push | file
  std::optional<ReadingMessage> last;  ///< null: it has said nothing since the start
  std::optional<sensors::Day> calibrated_on = std::nullopt;
  std::optional<sensors::Day> calibration_due_on = std::nullopt;
};

/// The chamber log: written, or waiting for its disk.
struct LogMessage {
  bool written = true;
  std::optional<sensors::Instant> since;  ///< of the trouble
  std::optional<std::string> error;
  std::int64_t waiting = 0;   ///< readings in memory
  std::int64_t given_up = 0;  ///< readings that there was no room for
};

struct StatusMessage {
  std::string program;  ///< "chamberd 0.1.0"
  int interface = kInterfaceVersion;
  int schema = 0;  ///< of the chamber log
  sensors::Instant at;
  sensors::Instant started_at;
  std::string chamber;   ///< its name
  std::int64_t row = 0;  ///< the log's newest: where /v1/live goes on from
  LogMessage log;
  AirMessage air;
  Asks asks;          ///< what the batches share; light and tasks included
  bool kept = false;  ///< some batch waits to be moved and its last band is kept
  std::vector<ProbeMessage> probes;
  std::vector<OccupantMessage> occupants;
  std::vector<WarningMessage> warnings;  ///< those that stand
};

void to_json(nlohmann::json& json, const StatusMessage& message);
sensors::Result<StatusMessage> status_message_from(const nlohmann::json& json);

}  // namespace takehold::daemon
