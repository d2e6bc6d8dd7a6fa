#include "daemon/healing/regime_json.hpp"

#include <cmath>
#include <nlohmann/json.hpp>

#include "daemon/healing/check_regime.hpp"
#include "daemon/healing/chore.hpp"

namespace takehold::daemon {
namespace {

using nlohmann::json;
using std::chrono::minutes;

constexpr double kMostHours = 24.0 * 365.0;

/// Hours of any fraction, to the nearest minute.
minutes need_hours(const JsonObject& object) {
  const double hours = object.need_number("hours");
  if (hours >= 0.0 && hours <= kMostHours) return minutes(std::llround(hours * 60.0));
  object.refuse("hours", {"out-of-range", "`hours` must lie within 0 and 8760", "", "", ""});
  return minutes(0);
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

/// One band for all hours, or `day` and `night`.
template <class Q>
void asked_from(const JsonObject& object, const char* key, std::optional<Ramp<Q>>& day,
                std::optional<Ramp<Q>>& night) {
  const json* value = object.value(key);
  if (value == nullptr || !value->is_object() || !value->contains("day")) {
    day = ramp_from<Q>(object, key);
    return;
  }
  const auto parted = *object.object(key);
  day = ramp_from<Q>(parted, "day");
  night = ramp_from<Q>(parted, "night");
}

/// ["06:00", "22:00"]
std::optional<DayHours> day_from(const JsonObject& object) {
  if (!object.has("day")) return std::nullopt;
  const auto texts = object.texts("day");
  if (texts.size() == 2) {
    const auto begins = clock_time(texts[0]), ends = clock_time(texts[1]);
    if (begins && ends && *begins != *ends) return DayHours{*begins, *ends};
  }
  object.refuse("day", {"bad-hours", "`day` is when it begins and when it ends", "", "", ""});
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
  asked_from(object, "temperature_degc", stage.temperature, stage.night_temperature);
  asked_from(object, "humidity_pct", stage.humidity, stage.night_humidity);
  asked_from(object, "vpd_kpa", stage.vapour_deficit, stage.night_vapour_deficit);
  stage.light = band_from<sensors::PhotonFlux>(object, "light_umol");
  stage.tasks = object.texts("tasks");
  stage.advance_when = object.text("advance_when").value_or("");
  return stage;
}

}  // namespace

Regime regime_from(const JsonObject& object) {
  Regime regime;
  regime.name = object.need_text("name");
  regime.source = object.text("source").value_or("");
  regime.methods = object.texts("methods");
  regime.day = day_from(object);
  regime.time_zone = object.text("time_zone").value_or("");
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
