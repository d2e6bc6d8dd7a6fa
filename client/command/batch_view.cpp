#include "client/command/batch_view.hpp"

#include <fmt/format.h>

#include <cmath>

#include "client/season/field_json.hpp"
#include "client/terminal/numbers.hpp"
#include "daemon/healing/regime_json.hpp"

namespace takehold::client {

using nlohmann::json;

daemon::Regime regime_of(const Batch& batch) {
  auto regime = daemon::parse_regime_json(json::parse(batch.regime_plan));
  if (!regime) throw sensors::Refused(regime.error());
  return *std::move(regime);
}

std::vector<daemon::ManualEvent> manual_events(const std::vector<BatchEvent>& events) {
  std::vector<daemon::ManualEvent> manual;
  for (const BatchEvent& event : events) {
    const auto kind = daemon::event_kind(to_text(event.kind));
    const auto longer = std::chrono::minutes(std::lround(event.hours * 60.0));
    manual.push_back({kind.value(), event.at, longer});
  }
  return manual;
}

daemon::StageNow stage_of(const BatchState& state, sensors::Instant now) {
  return daemon::stage_at(regime_of(state.batch), state.batch.at, manual_events(state.events), now);
}

json batch_json(const BatchState& state, sensors::Instant now) {
  const Batch& batch = state.batch;
  json document = to_json(batch);
  document.erase("regime_plan");
  document.erase("at");
  document["count"] = batch.count();
  document["grafted_at"] = sensors::to_string(batch.at);
  document["stage"] = std::string(daemon::stage_name(regime_of(batch), stage_of(state, now)));
  document["lost"] = state.lost;
  document["taken"] = state.finish ? json(state.finish->taken) : json();
  document["pending"] = state.pending();
  document["place"] = state.place;
  return document;
}

json stage_json(const BatchState& state, sensors::Instant now) {
  const auto regime = regime_of(state.batch);
  const auto stage = stage_of(state, now);
  json document{{"batch", state.batch.id},
                {"stage", std::string(daemon::stage_name(regime, stage))},
                {"since_at", sensors::to_string(stage.since)},
                {"next_at", nullptr},
                {"asks", daemon::asks_of(regime, stage)},
                {"where", nullptr},
                {"place", state.place}};
  if (stage.next) document["next_at"] = sensors::to_string(*stage.next);
  if (!stage.over) {
    document["where"] = std::string(daemon::to_string(regime.stages[stage.index].where));
  }
  return document;
}

namespace {

void add_band(std::string& text, const std::string& band, const char* what) {
  text += (text.empty() ? "" : ", ") + band + what;
}

template <class Q>
std::string numbers_of(const daemon::Band<Q>& band) {
  return fmt::format("{:g} to {:g} ", daemon::number_of(band.low), daemon::number_of(band.high));
}

}  // namespace

std::string asks_text(const daemon::Asks& asks, Units units) {
  std::string text;
  if (asks.temperature) {
    add_band(text, shown(asks.temperature->low, asks.temperature->high, units, 0), "");
  }
  if (asks.humidity) add_band(text, numbers_of(*asks.humidity), "% humidity");
  if (asks.vapour_deficit) {
    add_band(text, numbers_of(*asks.vapour_deficit), "kPa vapour pressure deficit");
  }
  if (asks.light) add_band(text, numbers_of(*asks.light), "µmol light");
  return text.empty() ? "nothing in particular" : text;
}

}  // namespace takehold::client
