#include "daemon/healing/regime_json.hpp"

#include <cmath>
#include <nlohmann/json.hpp>

#include "daemon/healing/check_regime.hpp"

namespace takehold::daemon {
namespace {

using nlohmann::json;
using std::chrono::minutes;

constexpr double kMostHours = 24.0 * 365.0;

double hours_of(minutes length) {
  return static_cast<double>(length.count()) / 60.0;
}

/// Hours of any fraction, to the nearest minute.
minutes need_hours(const JsonObject& object) {
  const double hours = object.need_number("hours");
  if (hours >= 0.0 && hours <= kMostHours) return minutes(std::llround(hours * 60.0));
  object.refuse("hours", {"out-of-range", "`hours` must lie within 0 and 8760", "", "", ""});
  return minutes(0);
}

template <class Q>
json band_json(const Band<Q>& band) {
  return json::array({number_of(band.low), number_of(band.high)});
}

template <class Q>
json band_json(const std::optional<Band<Q>>& band) {
  return band ? band_json(*band) : json(nullptr);
}

template <class Q>
json ramp_json(const std::optional<Ramp<Q>>& ramp) {
  if (!ramp) return nullptr;
  if (ramp->is_level()) return band_json(ramp->from);
  return {{"from", band_json(ramp->from)}, {"to", band_json(ramp->to)}};
}

template <class Q>
std::optional<Band<Q>> band_from(const JsonObject& object, const char* key) {
  const auto ends = object.pair(key);
  if (!ends) return std::nullopt;
  return Band<Q>{quantity_of<Q>(ends->first), quantity_of<Q>(ends->second)};
}

template <class Q>
std::optional<Ramp<Q>> ramp_from(const JsonObject& object, const char* key) {
  const json* value = object.value(key);
  if (value == nullptr) return std::nullopt;
  if (!value->is_object()) {
    const auto band = band_from<Q>(object, key);
    if (!band) return std::nullopt;
    return Ramp<Q>{*band, *band};
  }
  const auto moving = *object.object(key);
  const auto from = band_from<Q>(moving, "from");
  const auto to = band_from<Q>(moving, "to");
  if (from && to) return Ramp<Q>{*from, *to};
  if (!moving.has("from") || !moving.has("to")) {
    object.refuse(key, {"bad-band", "a moving band needs both from and to", "", "", ""});
  }
  return std::nullopt;
}

Stage stage_from(const JsonObject& object) {
  Stage stage;
  stage.name = object.need_text("name");
  if (const auto text = object.text("where")) {
    const auto place = stage_place(*text);
    if (!place) {
      object.refuse("where", {"unknown-value", "`where` is chamber or bench", *text, "", ""});
    }
    stage.where = place.value_or(StagePlace::chamber);
  }
  stage.length = need_hours(object);
  stage.temperature = ramp_from<sensors::Celsius>(object, "temperature_degc");
  stage.humidity = ramp_from<sensors::RelativeHumidity>(object, "humidity_pct");
  stage.vapour_deficit = ramp_from<sensors::Pressure>(object, "vpd_kpa");
  stage.light = band_from<sensors::PhotonFlux>(object, "light_umol");
  stage.tasks = object.texts("tasks");
  return stage;
}

}  // namespace

void to_json(json& out, const Stage& stage) {
  out = {{"name", stage.name},
         {"where", to_string(stage.where)},
         {"hours", hours_of(stage.length)},
         {"temperature_degc", ramp_json(stage.temperature)},
         {"humidity_pct", ramp_json(stage.humidity)},
         {"vpd_kpa", ramp_json(stage.vapour_deficit)},
         {"light_umol", band_json(stage.light)},
         {"tasks", stage.tasks}};
}

void to_json(json& out, const Regime& regime) {
  out = {{"name", regime.name}, {"source", regime.source}, {"methods", regime.methods}};
  out["stages"] = regime.stages;
}

void to_json(json& out, const ManualEvent& event) {
  out = {{"kind", to_string(event.kind)}, {"at", sensors::to_string(event.at)}, {"hours", nullptr}};
  if (event.kind == EventKind::hold) out["hours"] = hours_of(event.longer);
}

void to_json(json& out, const Asks& asks) {
  out = {{"temperature_degc", band_json(asks.temperature)},
         {"humidity_pct", band_json(asks.humidity)},
         {"vpd_kpa", band_json(asks.vapour_deficit)},
         {"light_umol", band_json(asks.light)},
         {"tasks", asks.tasks}};
}

Regime regime_from(const JsonObject& object) {
  Regime regime;
  regime.name = object.need_text("name");
  regime.source = object.text("source").value_or("");
  regime.methods = object.texts("methods");
  const auto stages = object.objects("stages");
  for (const JsonObject& stage : stages) regime.stages.push_back(stage_from(stage));
  for (const auto& mistake : check_regime(regime)) {
    if (mistake.stage) {
      stages[*mistake.stage].refuse(mistake.key.c_str(), mistake.problem);
    } else {
      object.refuse(mistake.key == "stage" ? "stages" : mistake.key.c_str(), mistake.problem);
    }
  }
  return regime;
}

ManualEvent manual_event_from(const JsonObject& object) {
  ManualEvent event{EventKind::advance, object.need_instant("at"), minutes(0)};
  const auto text = object.need_text("kind");
  const auto kind = event_kind(text);
  if (!kind) {
    object.refuse("kind", {"unknown-value", "`kind` is advance, hold or back", text, "", ""});
  }
  event.kind = kind.value_or(EventKind::advance);
  if (event.kind == EventKind::hold) event.longer = need_hours(object);
  return event;
}

Asks asks_from(const JsonObject& object) {
  Asks asks;
  asks.temperature = band_from<sensors::Celsius>(object, "temperature_degc");
  asks.humidity = band_from<sensors::RelativeHumidity>(object, "humidity_pct");
  asks.vapour_deficit = band_from<sensors::Pressure>(object, "vpd_kpa");
  asks.light = band_from<sensors::PhotonFlux>(object, "light_umol");
  asks.tasks = object.texts("tasks");
  return asks;
}

sensors::Result<Regime> parse_regime_json(const json& value) {
  std::vector<sensors::Problem> mistakes;
  const Regime regime = regime_from(JsonObject(value, mistakes));
  if (!mistakes.empty()) return mistakes.front();
  return regime;
}

}  // namespace takehold::daemon
