// Regimes, stages' asks and manual events in JSON, as they travel between the programs and stand in
// the book. Keys are those of the regime file.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <vector>

#include "daemon/healing/asks.hpp"
#include "daemon/healing/json_object.hpp"

namespace takehold::daemon {

// For nlohmann's own `json value = regime;`. Reading goes through the checked functions below.
void to_json(nlohmann::json& json, const Regime& regime);
void to_json(nlohmann::json& json, const Stage& stage);
void to_json(nlohmann::json& json, const ManualEvent& event);
/// `{temperature_degc, humidity_pct, vpd_kpa, light_umol, tasks}`, bands as [low, high] or null.
void to_json(nlohmann::json& json, const Asks& asks);

/// Unknown fields are ignored; mistakes go to the object's list, and then the value is not to be
/// used.
Regime regime_from(const JsonObject& json);
ManualEvent manual_event_from(const JsonObject& json);
Asks asks_from(const JsonObject& json);

/// A whole regime by itself. Code of the first mistake, `where` a JSON pointer.
sensors::Result<Regime> parse_regime_json(const nlohmann::json& json);

}  // namespace takehold::daemon
