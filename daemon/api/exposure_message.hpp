// GET /v1/exposure/{label}: what a batch went through, on the wire.
#pragma once

#include <cstdint>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>

#include "daemon/healing/exposure.hpp"
#include "sensors/quantity/problem.hpp"

namespace takehold::daemon {

/// `{label, book, revision, regime, entered_at, left_at, until_at, observed, stages:[{stage,
/// since_at, until_at, hours, observed, temperature, humidity, vapour_pressure_deficit}]}`; of the
/// last three each is null or `{observed, below_h, longest_below_h, below_U_h, above_h,
/// longest_above_h, above_U_h}` with U degc or kpa.
struct ExposureMessage {
  std::string label;
  std::optional<std::string> book;       ///< null: the batch comes from the settings
  std::optional<std::int64_t> revision;  ///< null likewise
  std::string regime;                    ///< its name
  sensors::Instant entered_at;
  std::optional<sensors::Instant> left_at;
  sensors::Instant until;  ///< up to where this was counted: now, or when it left
  Exposure exposure;
};

void to_json(nlohmann::json& json, const ExposureMessage& message);
sensors::Result<ExposureMessage> exposure_message_from(const nlohmann::json& json);

}  // namespace takehold::daemon
