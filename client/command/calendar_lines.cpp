#include "client/command/calendar_lines.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "client/command/batch_calendar.hpp"
#include "client/season/place.hpp"
#include "client/season/planned.hpp"
#include "client/season/season.hpp"

namespace takehold::client {
namespace {

using sensors::Day;
using sensors::Days;

// Stems are worth measuring from the twelfth day on, every fourth (common practice).
constexpr Days kFirstMeasure{12}, kMeasureEvery{4};

/// The first graft that a planned sowing is for; own roots have none.
std::optional<Day> graft_day_of(const Book& book, const PlannedSowing& line) {
  std::optional<Day> first;
  for (const PlannedGraft& graft : book.all<PlannedGraft>()) {
    const auto& ids = line.pairings;
    if (std::find(ids.begin(), ids.end(), graft.pairing) == ids.end()) continue;
    first = first ? std::min(*first, graft.graft_on) : graft.graft_on;
  }
  return first;
}

Day sown_on(const Book& book, const PlannedSowing& line) {
  for (const Sowing& sowing : book.all<Sowing>()) {
    if (sowing.planned == line.id) return book.time_zone().day_of(sowing.at);
  }
  return line.sow_on;
}

std::string sow_text(const Book& book, const PlannedSowing& line) {
  const auto lot = book.find<Lot>(line.lot);
  return fmt::format("Sow {} {}{} as {}", line.seeds, line.lot,
                     lot ? " (" + lot->variety + ")" : "", to_text(line.side));
}

/// A sowing and what its seedlings ask for until the graft.
void add_sowing(const Book& book, const PlannedSowing& line, std::optional<Day> graft_on,
                std::vector<CalendarLine>& lines) {
  const Day sow_on = sown_on(book, line);
  const auto add = [&](const std::string& what, const std::string& uid, Day on,
                       const std::string& text, const std::string& more) {
    lines.push_back({{uid + "-" + line.id + "@" + book.uuid(), 0, on, text, more}, what, line.lot});
  };
  add("sow", "sow", sow_on, sow_text(book, line),
      fmt::format("{} cells. takehold today", line.cells));
  if (line.seeds > line.cells) {
    add("prick", "prick", sow_on + kPrickAfter,
        fmt::format("Prick out or thin {}: {} seeds stand in {} cells", line.lot, line.seeds,
                    line.cells),
        "One plant a cell, when the first true leaf shows.");
  }
  int count = 0;
  for (Day on = sow_on + kFirstMeasure; graft_on && on < *graft_on; on += kMeasureEvery) {
    add("measure", fmt::format("measure{}", ++count), on,
        fmt::format("Measure stems of {}", line.lot), "Below the seed leaves. takehold measure");
  }
}

}  // namespace

std::vector<CalendarLine> calendar_of(const Book& book) {
  std::vector<CalendarLine> lines;
  for (const PlannedSowing& line : book.all<PlannedSowing>()) {
    add_sowing(book, line, graft_day_of(book, line), lines);
  }
  add_grafts(book, lines);
  if (const auto season = book.find<Season>("season")) {
    lines.push_back({{"ready-" + season->season + "@" + book.uuid(), 0, season->ready_on,
                      "Set the plants out, with the union above the soil",
                      "Hardened and ready. Below the soil the scion makes roots of its own."},
                     "ready",
                     season->season});
  }
  const auto commands = book.commands();
  const int sequence = commands.empty() ? 0 : static_cast<int>(commands.front().id);
  for (CalendarLine& line : lines) line.event.sequence = sequence;
  std::stable_sort(lines.begin(), lines.end(), [](const CalendarLine& a, const CalendarLine& b) {
    return a.event.on < b.event.on;
  });
  return lines;
}

std::vector<DayEvent> cancelled_of(const Book& book, const std::vector<CalendarLine>& standing) {
  std::set<std::string> stands;
  for (const CalendarLine& line : standing) stands.insert(line.event.uid);
  std::set<NounRef> written;
  for (const CommandLine& command : book.commands()) {
    written.insert(command.wrote.begin(), command.wrote.end());
  }
  std::vector<CalendarLine> before;
  std::optional<Day> last_graft;  // of all that were ever planned: no measuring day lay behind it
  for (const NounRef& noun : written) {
    if (noun.kind != Kind::planned_graft) continue;
    add_former_grafts(book, noun.key, before);
    for (const auto& version : book.history<PlannedGraft>(noun.key)) {
      last_graft = std::max(last_graft, std::optional(version.noun.graft_on));
    }
  }
  for (const NounRef& noun : written) {
    if (noun.kind != Kind::planned_sowing) continue;
    for (const auto& version : book.history<PlannedSowing>(noun.key)) {
      const bool for_grafts = !version.noun.pairings.empty();
      add_sowing(book, version.noun, for_grafts ? last_graft : std::nullopt, before);
    }
  }
  std::map<std::string, DayEvent> gone;
  for (CalendarLine& line : before) {
    if (stands.contains(line.event.uid)) continue;
    line.event.cancelled = true;
    line.event.sequence = standing.empty() ? static_cast<int>(book.commands().front().id)
                                           : standing.front().event.sequence;
    gone.insert_or_assign(line.event.uid, std::move(line.event));
  }
  std::vector<DayEvent> events;
  for (auto& [uid, event] : gone) events.push_back(std::move(event));
  return events;
}

}  // namespace takehold::client
