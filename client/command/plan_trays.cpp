#include "client/command/plan_trays.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "client/command/calendar_lines.hpp"
#include "client/command/plant_words.hpp"
#include "client/terminal/days.hpp"
#include "client/terminal/table.hpp"

namespace takehold::client {
namespace {

using nlohmann::json;
using sensors::Days;

int cells_per_tray(const PlanRequest& request) {
  return std::max(1, request.season.cells_per_tray);
}

/// The last graft that a line is for; own roots stand until they are set out.
Day leaves_bench(const SowingLine& line, const SeasonPlan& plan) {
  std::optional<Day> last;
  for (const PlannedPairing& pairing : plan.pairings) {
    const std::string name =
        pairing.id.empty() ? pairing.scion + "/" + pairing.rootstock : pairing.id;
    const bool is_for =
        std::find(line.purposes.begin(), line.purposes.end(), name) != line.purposes.end();
    if (is_for && pairing.graft_on) last = std::max(last, pairing.graft_on);
  }
  return last.value_or(plan.ready_on);
}

/// When trays come to a place and leave it.
struct Stay {
  Day from{};
  Day until{};
  bool in_chamber = false;
  auto operator<=>(const Stay&) const = default;
};
using Cells = std::map<Stay, int>;  // what comes and goes together fills its trays together

void add_seedlings(const SeasonPlan& plan, Cells& cells) {
  for (const SowingLine& line : plan.sowings) {
    const Day until = leaves_bench(line, plan);
    const bool is_shared = line.seeds > line.cells;
    const Day prick = is_shared ? std::min(until, line.sow_on + kPrickAfter) : until;
    cells[{line.sow_on, prick, false}] += line.cells;
    cells[{prick, until, false}] += line.seeds;
  }
}

void add_grafts(const PlanRequest& request, const SeasonPlan& plan, Cells& cells) {
  const auto inside = std::chrono::ceil<Days>(request.chamber_length);
  const auto all = std::chrono::ceil<Days>(request.regime_length);
  for (const PlannedPairing& pairing : plan.pairings) {
    if (!pairing.graft_on) continue;
    const Day day = *pairing.graft_on;
    cells[{day, day + inside, true}] += pairing.grafts;
    cells[{day + inside, day + all, false}] += pairing.grafts;
  }
}

}  // namespace

std::vector<SowingDayTrays> trays_of(const SeasonPlan& plan, int cells_per_tray) {
  std::map<Day, SowingDayTrays> days;
  for (const SowingLine& line : plan.sowings) days[line.sow_on].lines.push_back(&line);
  std::vector<SowingDayTrays> list;
  for (auto& [on, day] : days) {
    day.on = on;
    std::vector<TrayNeed> needs;
    for (const SowingLine* line : day.lines) {
      needs.push_back({line->lot.value_or(line->variety), line->seeds, line->cells});
    }
    day.trays = fill_trays(needs, cells_per_tray);
    list.push_back(std::move(day));
  }
  return list;
}

std::vector<SpaceDay> space_by_day(const PlanRequest& request, const SeasonPlan& plan) {
  Cells cells;
  add_seedlings(plan, cells);
  add_grafts(request, plan, cells);
  std::set<Day> changes;
  for (const auto& [stay, count] : cells) changes.insert({stay.from, stay.until});
  std::vector<SpaceDay> list;
  for (const Day on : changes) {
    SpaceDay day{on, 0, 0};
    for (const auto& [stay, count] : cells) {
      if (on < stay.from || on >= stay.until) continue;
      (stay.in_chamber ? day.chamber : day.bench) += trays_for(count, cells_per_tray(request));
    }
    const bool is_same =
        !list.empty() && list.back().bench == day.bench && list.back().chamber == day.chamber;
    if (!is_same) list.push_back(day);
  }
  return list;
}

std::string trays_text(const PlanRequest& request, const SeasonPlan& plan,
                       const TerminalStyle& style) {
  Table trays({{"sow on"},
               {"tray", Align::right},
               {"cells"},
               {"lot"},
               {"variety"},
               {"seeds", Align::right}});
  int number = 0;
  for (const SowingDayTrays& day : trays_of(plan, cells_per_tray(request))) {
    for (const FilledTray& tray : day.trays) {
      ++number;
      for (const TrayRun& run : tray.runs) {
        const SowingLine& line = *day.lines[run.need];
        const int last = run.first_cell + run.cells - 1;
        trays.add(
            {shown_with_weekday(day.on, style.dates), std::to_string(number),
             run.cells == 1 ? std::to_string(last) : fmt::format("{} to {}", run.first_cell, last),
             line.lot.value_or("to buy"), line.variety, std::to_string(run.seeds)});
      }
    }
  }
  Table space({{"from"}, {"trays on benches", Align::right}, {"in the chamber", Align::right}});
  for (const SpaceDay& day : space_by_day(request, plan)) {
    space.add({shown_with_weekday(day.on, style.dates), std::to_string(day.bench),
               std::to_string(day.chamber)});
  }
  return trays.text(style) + "\nRoom for them, if every seed comes up and is pricked out:\n" +
         space.text(style);
}

json trays_json(const PlanRequest& request, const SeasonPlan& plan) {
  json trays = json::array(), space = json::array();
  for (const SowingDayTrays& day : trays_of(plan, cells_per_tray(request))) {
    for (const FilledTray& tray : day.trays) {
      json cells = json::array();
      for (const TrayRun& run : tray.runs) {
        const SowingLine& line = *day.lines[run.need];
        cells.push_back({{"first_cell", run.first_cell},
                         {"cells", run.cells},
                         {"lot", line.lot ? json(*line.lot) : json()},
                         {"variety", line.variety},
                         {"seeds", run.seeds}});
      }
      trays.push_back({{"tray", trays.size() + 1},
                       {"sow_on", sensors::to_string(day.on)},
                       {"cells", std::move(cells)}});
    }
  }
  for (const SpaceDay& day : space_by_day(request, plan)) {
    space.push_back({{"on", sensors::to_string(day.on)},
                     {"bench_trays", day.bench},
                     {"chamber_trays", day.chamber}});
  }
  return {{"trays", std::move(trays)}, {"space", std::move(space)}};
}

}  // namespace takehold::client
