// `takehold calendar`: the season by its days, on the screen or as a calendar file.
#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "client/command/batch_view.hpp"
#include "client/command/command_tree.hpp"
#include "client/command/ics.hpp"
#include "client/command/opened_book.hpp"
#include "client/command/tasks.hpp"
#include "client/command/text_file.hpp"
#include "client/season/planned.hpp"
#include "client/terminal/days.hpp"
#include "client/terminal/table.hpp"
#include "daemon/healing/regime_toml.hpp"

namespace takehold::client {
namespace {

using nlohmann::json;

struct CalendarLine {
  DayEvent event;
  std::string what, about;
};

/// How often the noun was written: a sequence that only rises.
template <class T>
int sequence_of(const Book& book, const std::string& key) {
  return std::max(0, static_cast<int>(book.history<T>(key).size()) - 1);
}

std::string sow_text(const Book& book, const PlannedSowing& line) {
  const auto lot = book.find<Lot>(line.lot);
  return fmt::format("Sow {} {}{} as {}", line.seeds, line.lot,
                     lot ? " (" + lot->variety + ")" : "", to_text(line.side));
}

void add_planned(const Book& book, std::vector<CalendarLine>& lines) {
  for (const PlannedSowing& line : book.all<PlannedSowing>()) {
    lines.push_back(
        {{"sow-" + line.id + "@" + book.uuid(), sequence_of<PlannedSowing>(book, line.id),
          line.sow_on, sow_text(book, line), fmt::format("{} cells. takehold today", line.cells)},
         "sow",
         line.lot});
  }
  for (const PlannedGraft& line : book.all<PlannedGraft>()) {
    const auto pairing = book.find<Pairing>(line.pairing);
    const std::string name = line.pairing + (pairing ? " " + pairing->names() : "");
    lines.push_back(
        {{"graft-" + line.id + "@" + book.uuid(), sequence_of<PlannedGraft>(book, line.id),
          line.graft_on, fmt::format("Graft {}, up to {}", name, line.grafts),
          "Measure first: takehold match " + line.pairing},
         "graft",
         line.pairing});
  }
}

// Common practice: seedlings that share a cell are pricked out when the first true leaf shows,
// about ten days after sowing in warmth; stems are worth measuring from the twelfth day on, every
// fourth.
constexpr sensors::Days kPrick{10}, kFirstMeasure{12}, kMeasureEvery{4};

/// The first graft that a planned sowing is for; own roots have none.
std::optional<sensors::Day> graft_day_of(const Book& book, const PlannedSowing& line) {
  std::optional<sensors::Day> first;
  for (const PlannedGraft& graft : book.all<PlannedGraft>()) {
    const auto& ids = line.pairings;
    if (std::find(ids.begin(), ids.end(), graft.pairing) == ids.end()) continue;
    first = first ? std::min(*first, graft.graft_on) : graft.graft_on;
  }
  return first;
}

/// What seedlings ask for between sowing and graft.
void add_care(const Book& book, std::vector<CalendarLine>& lines) {
  for (const PlannedSowing& line : book.all<PlannedSowing>()) {
    const int sequence = sequence_of<PlannedSowing>(book, line.id);
    const auto add = [&](const std::string& what, const std::string& uid, sensors::Day on,
                         const std::string& text, const std::string& more) {
      lines.push_back(
          {{uid + "-" + line.id + "@" + book.uuid(), sequence, on, text, more}, what, line.lot});
    };
    if (line.seeds > line.cells) {
      add("prick", "prick", line.sow_on + kPrick,
          fmt::format("Prick out or thin {}: {} seeds stand in {} cells", line.lot, line.seeds,
                      line.cells),
          "One plant a cell, when the first true leaf shows.");
    }
    const auto graft_on = graft_day_of(book, line);
    int count = 0;
    for (sensors::Day on = line.sow_on + kFirstMeasure; graft_on && on < *graft_on;
         on += kMeasureEvery) {
      add("measure", fmt::format("measure{}", ++count), on,
          fmt::format("Measure stems of {}", line.lot), "Below the seed leaves. takehold measure");
    }
  }
}

/// The stages of grafts not made yet, as they fall if grafted on the planned day.
void add_planned_stages(const Book& book, std::vector<CalendarLine>& lines) {
  const auto season = book.find<Season>("season");
  const auto batches = book.all<Batch>();
  if (!season) return;
  const auto regime = daemon::find_regime(season->regime, regime_folders());
  if (!regime) return;
  for (const PlannedGraft& line : book.all<PlannedGraft>()) {
    const bool made = std::any_of(batches.begin(), batches.end(), [&](const Batch& batch) {
      return batch.pairing == line.pairing;
    });
    if (made) continue;
    auto into = std::chrono::minutes(0);
    for (std::size_t i = 0; i < regime->stages.size(); ++i) {
      const daemon::Stage& stage = regime->stages[i];
      std::string tasks = stage.where == daemon::StagePlace::bench ? "On the bench." : "";
      for (const std::string& task : stage.tasks) tasks += (tasks.empty() ? "" : " ") + task + ".";
      const auto on = line.graft_on + std::chrono::floor<sensors::Days>(into);
      lines.push_back({{fmt::format("stage-{}-{}@{}", line.id, i, book.uuid()),
                        sequence_of<PlannedGraft>(book, line.id), on,
                        fmt::format("{}: {} begins", line.pairing, stage.name), tasks},
                       "stage",
                       line.pairing});
      into += stage.length;
    }
  }
}

/// A running batch's stages still to come, as they fall if nobody intervenes.
void add_stages(const Book& book, const Batch& batch, sensors::Instant now,
                std::vector<CalendarLine>& lines) {
  const BatchState state = state_of(book, batch);
  if (state.finish || state.living() <= 0) return;
  const daemon::Regime regime = regime_of(batch);
  const auto events = manual_events(state.events);
  auto stage = stage_of(state, now);
  while (stage.next) {
    const sensors::Instant begin = *stage.next;
    stage = daemon::stage_at(regime, batch.at, events, begin);
    const std::string name(daemon::stage_name(regime, stage));
    lines.push_back({{fmt::format("stage-{}-{}@{}", batch.id, stage.index, book.uuid()),
                      static_cast<int>(events.size()), book.time_zone().day_of(begin),
                      fmt::format("{} {}/{}: {}", batch.id, batch.scion, batch.rootstock,
                                  stage.over ? "healing plan over" : name + " begins"),
                      "At " + book.time_zone().local_clock(begin)},
                     "stage",
                     batch.id});
  }
}

std::vector<CalendarLine> calendar_of(const Book& book, sensors::Instant now) {
  std::vector<CalendarLine> lines;
  add_planned(book, lines);
  add_care(book, lines);
  add_planned_stages(book, lines);
  for (const Batch& batch : book.all<Batch>()) add_stages(book, batch, now, lines);
  if (const auto season = book.find<Season>("season")) {
    lines.push_back({{"ready-" + season->season + "@" + book.uuid(),
                      sequence_of<Season>(book, "season"), season->ready_on, "Set the plants out",
                      "Hardened and ready. Keep the union above the soil."},
                     "ready",
                     season->season});
  }
  std::stable_sort(lines.begin(), lines.end(), [](const CalendarLine& a, const CalendarLine& b) {
    return a.event.on < b.event.on;
  });
  return lines;
}

json to_json(const CalendarLine& line) {
  return {{"on", sensors::to_string(line.event.on)},
          {"what", line.what},
          {"about", line.about},
          {"text", line.event.summary}};
}

void write_ics(Context& context, const std::string& file, const std::vector<CalendarLine>& lines,
               const Book& book) {
  std::vector<DayEvent> events;
  for (const CalendarLine& line : lines) events.push_back(line.event);
  const auto season = book.find<Season>("season");
  write_text_file(file,
                  ics_text(events, "Grafting " + (season ? season->season : ""), context.now));
  context.out.line(
      fmt::format("{}: {}. Import it again after changes: the same days are known "
                  "again.",
                  file, counted(static_cast<long long>(events.size()), "day", "days")));
}

void calendar(Context& context, const std::optional<std::string>& ics) {
  const Book book = open_book(context, BookUse::reading);
  const auto lines = calendar_of(book, context.now);
  const sensors::Day today = book.time_zone().day_of(context.now);
  json list = json::array();
  Table table({{"on"}, {"what"}, {""}});
  for (const CalendarLine& line : lines) {
    list.push_back(to_json(line));
    const auto& on = line.event.on;
    table.add({shown_with_weekday(on, context.out.style().dates), line.event.summary,
               on < today    ? "past"
               : on == today ? "today"
                             : ""});
  }
  if (ics) {
    write_ics(context, *ics, lines, book);
  } else {
    context.out.text(lines.empty() ? "Nothing is planned yet: takehold plan --accept\n"
                                   : table.text(context.out.style()));
  }
  context.out.document({{"events", std::move(list)}, {"file", ics ? json(*ics) : json()}});
}

}  // namespace

void add_calendar(CommandTree& tree) {
  CLI::App& app = tree.command(
      "calendar",
      {kDaily, "the season by its days; --ics: as a file for any calendar",
       "Sowings of the accepted plan, pricking out, days to measure, grafts, each stage with\n"
       "its tasks, the day the plants shall be ready. Events ring at 7:00.",
       "calendar\ncalendar --ics grafting.ics"});
  const auto ics = std::make_shared<std::optional<std::string>>();
  app.add_option("--ics", *ics, "the file to write (one that is there is replaced)");
  tree.action(app, [ics](Context& context) { calendar(context, *ics); });
}

}  // namespace takehold::client
