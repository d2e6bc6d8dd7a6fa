#include <nlohmann/json.hpp>

#include "daemon/healing/chore.hpp"
#include "daemon/healing/regime_json.hpp"

namespace takehold::daemon {
namespace {

using nlohmann::json;
using std::chrono::minutes;

double hours_of(minutes length) {
  return static_cast<double>(length.count()) / 60.0;
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
json asked_json(const std::optional<Ramp<Q>>& day, const std::optional<Ramp<Q>>& night) {
  if (!night) return ramp_json(day);
  return {{"day", ramp_json(day)}, {"night", ramp_json(night)}};
}

}  // namespace

void to_json(json& out, const Stage& stage) {
  out = {{"name", stage.name},
         {"where", to_string(stage.where)},
         {"hours", hours_of(stage.length)},
         {"temperature_degc", asked_json(stage.temperature, stage.night_temperature)},
         {"humidity_pct", asked_json(stage.humidity, stage.night_humidity)},
         {"vpd_kpa", asked_json(stage.vapour_deficit, stage.night_vapour_deficit)},
         {"light_umol", band_json(stage.light)},
         {"tasks", stage.tasks},
         {"advance_when", nullptr}};
  if (!stage.advance_when.empty()) out["advance_when"] = stage.advance_when;
}

void to_json(json& out, const Regime& regime) {
  out = {{"name", regime.name}, {"source", regime.source}, {"methods", regime.methods}};
  out["stages"] = regime.stages;
  out["day"] = nullptr;
  out["time_zone"] = nullptr;
  if (regime.day) out["day"] = {clock_text(regime.day->begins), clock_text(regime.day->ends)};
  if (!regime.time_zone.empty()) out["time_zone"] = regime.time_zone;
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

}  // namespace takehold::daemon
