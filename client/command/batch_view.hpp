// A batch as shown: what it is, which stage it is in, what the air should be.
#pragma once

#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "client/command/own_folders.hpp"
#include "client/command/standing.hpp"
#include "daemon/healing/asks.hpp"
#include "daemon/healing/regime.hpp"
#include "daemon/healing/stage_at.hpp"

namespace takehold::client {

/// The grower's own healing plans lie beside the settings.
inline std::vector<std::filesystem::path> regime_folders() {
  return settings_folders();
}

/// The plan the batch was given when it was grafted, whatever its file says now.
daemon::Regime regime_of(const Batch& batch);

/// The grower's hand on the stages, as the healing rules take it.
std::vector<daemon::ManualEvent> manual_events(const std::vector<BatchEvent>& events);

daemon::StageNow stage_of(const BatchState& state, sensors::Instant now);

/// {id, pairing, scion, rootstock, method, by, count, regime, grafted_at, stage, lost, taken,
/// pending, place, grafts, note}
nlohmann::json batch_json(const BatchState& state, sensors::Instant now);

/// {batch, stage, since_at, next_at, asks, where}
nlohmann::json stage_json(const BatchState& state, sensors::Instant now);

/// "22 to 29 °C, 95 to 100 % humidity": what is asked for, in words.
std::string asks_text(const daemon::Asks& asks, Units units);

}  // namespace takehold::client
