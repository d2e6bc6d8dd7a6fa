// What the interface says, made from what the keeper knows.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>

#include "daemon/api/status_message.hpp"
#include "daemon/io/keeper.hpp"

namespace takehold::daemon {

inline constexpr const char* kProgram = "chamberd " TAKEHOLD_VERSION;

/// One line of JSON, whatever bytes a probe may have sent: what is no UTF-8 is replaced.
std::string json_text(const nlohmann::json& json);

StatusMessage status_message(const Keeper& keeper, sensors::Instant now);
std::vector<OccupantMessage> occupant_messages(const Chamber& chamber, sensors::Instant now);
WarningMessage warning_message(const Warning& warning);
EventMessage event_message(const Event& event);
/// A reading with why it is none or not good.
ReadingMessage reading_message(const PollResult& result);

}  // namespace takehold::daemon
