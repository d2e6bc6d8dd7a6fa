#include "client/command/batch_calendar.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "client/command/batch_view.hpp"
#include "client/season/pairing.hpp"
#include "client/season/planned.hpp"
#include "client/season/season.hpp"
#include "daemon/healing/regime_toml.hpp"

namespace takehold::client {
namespace {

using sensors::Days;
using sensors::Instant;

/// What a stage wants done, for the event's description.
std::string tasks_of(const daemon::Regime& regime, std::size_t stage) {
  if (stage >= regime.stages.size()) return "Set out with the union above the soil.";
  std::string text = regime.stages[stage].where == daemon::StagePlace::bench ? "On the bench." : "";
  for (const std::string& task : regime.stages[stage].tasks) {
    text += (text.empty() ? "" : " ") + task + ".";
  }
  return text;
}

std::string stage_text(const daemon::Regime& regime, std::size_t stage) {
  if (stage >= regime.stages.size()) return "hardened, ready to set out";
  return regime.stages[stage].name + " begins";
}

/// Numbered by the stage, the last being the end of all.
CalendarLine stage_line(const Book& book, const std::string& base, const std::string& about,
                        const std::string& name, const daemon::Regime& regime, std::size_t stage,
                        sensors::Day on) {
  return {{fmt::format("stage-{}-{}@{}", base, stage, book.uuid()), 0, on,
           name + ": " + stage_text(regime, stage), tasks_of(regime, stage)},
          stage < regime.stages.size() ? "stage" : "ready",
          about};
}

void add_planned(const Book& book, const PlannedGraft& line, std::vector<CalendarLine>& lines) {
  const auto pairing = book.find<Pairing>(line.pairing);
  const std::string name = line.pairing + (pairing ? " " + pairing->names() : "");
  lines.push_back({{"graft-" + line.id + "@" + book.uuid(), 0, line.graft_on,
                    fmt::format("Graft {}, up to {}", name, line.grafts),
                    "Measure first: takehold match " + line.pairing},
                   "graft",
                   line.pairing});
  const auto season = book.find<Season>("season");
  if (!season) return;
  const auto regime = daemon::find_regime(season->regime, regime_folders());
  if (!regime) return;
  auto into = std::chrono::minutes(0);
  for (std::size_t i = 0; i <= regime->stages.size(); ++i) {
    const auto on = line.graft_on + std::chrono::floor<Days>(into);
    lines.push_back(stage_line(book, line.id, line.pairing, name, *regime, i, on));
    if (i < regime->stages.size()) into += regime->stages[i].length;
  }
}

/// When each of a batch's stages began or will, with everything the grower did to them. A stage
/// begun twice counts from the last time.
std::map<std::size_t, Instant> begins_of(const daemon::Regime& regime, Instant entered_at,
                                         const std::vector<daemon::ManualEvent>& events) {
  std::map<std::size_t, Instant> begins;
  Instant at = entered_at;
  for (;;) {
    const auto stage = daemon::stage_at(regime, entered_at, events, at);
    begins[stage.index] = stage.since;
    std::optional<Instant> next = stage.next;
    for (const daemon::ManualEvent& event : events) {
      if (event.at > at && (!next || event.at < *next)) next = event.at;
    }
    if (!next) return begins;
    at = *next;
  }
}

void add_batch(const Book& book, const BatchState& state, const std::string& base,
               std::vector<CalendarLine>& lines) {
  const Batch& batch = state.batch;
  const std::string name = fmt::format("{} {}/{}", batch.id, batch.scion, batch.rootstock);
  lines.push_back({{"graft-" + base + "@" + book.uuid(), 0, book.time_zone().day_of(batch.at),
                    fmt::format("Grafted {} of {}", batch.count(), name), ""},
                   "graft",
                   batch.id});
  const daemon::Regime regime = regime_of(batch);
  for (const auto& [stage, begin] : begins_of(regime, batch.at, manual_events(state.events))) {
    lines.push_back(
        stage_line(book, base, batch.id, name, regime, stage, book.time_zone().day_of(begin)));
    DayEvent& event = lines.back().event;
    event.description = "At " + book.time_zone().local_clock(begin) + ". " + event.description;
  }
}

}  // namespace

void add_grafts(const Book& book, std::vector<CalendarLine>& lines) {
  std::map<std::string, std::string> base_of;  // by batch
  const auto batches = book.all<Batch>();
  for (const PlannedGraft& line : book.all<PlannedGraft>()) {
    const auto made = std::find_if(batches.begin(), batches.end(), [&](const Batch& batch) {
      return batch.pairing == line.pairing && !base_of.contains(batch.id);
    });
    if (made == batches.end()) {
      add_planned(book, line, lines);
    } else {
      base_of[made->id] = line.id;
    }
  }
  for (const Batch& batch : batches) {
    const BatchState state = state_of(book, batch);
    const auto base = base_of.find(batch.id);
    if (state.living() <= 0 && base == base_of.end()) continue;
    add_batch(book, state, base == base_of.end() ? batch.id : base->second, lines);
  }
}

void add_former_grafts(const Book& book, const std::string& key, std::vector<CalendarLine>& lines) {
  for (const auto& version : book.history<PlannedGraft>(key)) {
    add_planned(book, version.noun, lines);
  }
}

}  // namespace takehold::client
