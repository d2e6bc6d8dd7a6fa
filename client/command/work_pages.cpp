#include "client/command/work_pages.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "client/command/batch_view.hpp"
#include "client/command/opened_book.hpp"
#include "client/command/plant_words.hpp"
#include "client/season/planned.hpp"
#include "client/terminal/numbers.hpp"
#include "daemon/healing/asks.hpp"

namespace takehold::client {
namespace {

// Clips are sold by their millimetres everywhere.
std::string clip_text(Micrometres rootstock, Micrometres scion) {
  const auto below = clip_size(rootstock), above = clip_size(scion);
  const auto one = [](Micrometres clip) {
    return fmt::format("{:.1f}", static_cast<double>(clip) / 1000.0);
  };
  return below == above ? one(below) : one(std::max(below, above)) + " !";
}

// A stage's asks at its begin, and at its end where they move.
std::string stage_asks(const daemon::Regime& regime, std::size_t index, Units units) {
  daemon::StageNow stage;
  stage.index = index;
  stage.progress = 0;
  const std::string begin = asks_text(daemon::asks_of(regime, stage), units);
  stage.progress = 1;
  const std::string end = asks_text(daemon::asks_of(regime, stage), units);
  return begin == end ? begin : begin + "; by its end " + end;
}

std::string days_text(std::chrono::minutes from, std::chrono::minutes to) {
  const auto day = [](std::chrono::minutes m) {
    return fmt::format("{:g}", std::chrono::duration<double, std::ratio<86400>>(m).count());
  };
  return "day " + day(from) + " to " + day(to);
}

}  // namespace

bool draw_sowing_sheet(SheetPage& page, const Book& book, Day day) {
  std::vector<std::vector<std::string>> rows;
  const auto season = season_in(book);
  int trays = 0;
  for (const PlannedSowing& line : book.all<PlannedSowing>()) {
    if (line.sow_on != day) continue;
    const int of_line = trays_for(line.cells, season.cells_per_tray);
    trays += of_line;
    rows.push_back({"", variety_of_lot(book, line.lot), line.lot, std::string(to_text(line.side)),
                    std::to_string(line.seeds), std::to_string(line.cells), std::to_string(of_line),
                    ""});
  }
  if (rows.empty()) return false;
  page.title(fmt::format("To sow on {} {}: {}", sensors::weekday_name(day), sensors::to_string(day),
                         counted(trays, "tray", "trays")));
  const SheetColumn columns[] = {{"", 0.5, true},
                                 {"variety", 3.2},
                                 {"lot", 1.6},
                                 {"for", 1.4},
                                 {"seeds", 0.8, false, Across::right},
                                 {"cells", 0.8, false, Across::right},
                                 {"trays", 0.8, false, Across::right},
                                 {"really sown", 1.6, true}};
  page.table(columns, rows);
  page.paragraph(
      fmt::format("{} to a cell, {} cells to a tray. One lot at a time; label the tray "
                  "before the packet is closed.",
                  counted(season.seeds_per_cell, "seed", "seeds"), season.cells_per_tray));
  return true;
}

void draw_graft_sheet(SheetPage& page, const Book& book, const BookMatch& told,
                      const MatchShare& share, Units units) {
  const StemMatch& match = told.match;
  page.title(fmt::format("{} {} on {}: {}", share.pairing, share.scion, share.rootstock,
                         counted(share.count, "pair", "pairs")));
  const auto stem = [units](Micrometres um) {
    return bare(sensors::Millimetres::mm(static_cast<double>(um) / 1000.0), units);
  };
  const std::string unit(unit_of_length(units));
  std::vector<std::vector<std::string>> rows;
  int place = 0;
  for (const std::size_t index : pairs_of(match, share.pairing)) {
    const StemPair& pair = match.matching.pairs[index];
    const auto below = match.rootstocks.stems[pair.rootstock];
    const auto above = match.scions.stems[pair.scion];
    rows.push_back({std::to_string(++place), match.rootstocks.names[pair.rootstock], stem(below),
                    match.scions.names[pair.scion], stem(above), clip_text(below, above), "", "",
                    ""});
  }
  const SheetColumn columns[] = {{"place", 0.8, false, Across::right},
                                 {"rootstock", 1.5},
                                 {unit, 0.9, false, Across::right},
                                 {"scion", 1.5},
                                 {unit, 0.9, false, Across::right},
                                 {"clip, mm", 1.1, false, Across::right},
                                 {"cut", 0.6, true},
                                 {"joined", 0.7, true},
                                 {"note", 2.6, true}};
  page.table(columns, rows);
  const auto& zone = book.time_zone();
  page.paragraph(fmt::format(
      "Stems as measured {}. The tray is filled in this order. A clip marked ! fits the thicker "
      "stem; put the scion's edge against one edge of the cut. A pair made otherwise is noted as "
      "R7-S3: the rootstock's number, the scion's. Left over in all: {} and {}.",
      told.oldest ? zone.local_text(*told.oldest) : "at no noted time",
      counted(static_cast<long long>(match.matching.rootstocks_left_over.size()), "rootstock",
              "rootstocks"),
      counted(static_cast<long long>(match.matching.scions_left_over.size()), "scion", "scions")));
}

void draw_graft_caution(SheetPage& page) {
  page.caution(
      "Cut away from the fingers, with a fresh blade. Cut the rootstock below its seed leaves, so "
      "that it cannot sucker. Dip blade and hands between plants in 20 % dried skimmed milk with a "
      "drop of washing-up liquid, or in bleach 1:10: gloves, open window, and never bleach "
      "together "
      "with acid or ammonia. One infected plant can infect the next twenty that the blade cuts.");
}

void draw_chamber_card(SheetPage& page, const daemon::Regime& regime,
                       std::optional<sensors::Instant> grafted_at, const sensors::TimeZone& zone,
                       Units units) {
  std::chrono::minutes from{0};
  for (std::size_t i = 0; i < regime.stages.size(); ++i) {
    const daemon::Stage& stage = regime.stages[i];
    std::string when = days_text(from, from + stage.length);
    if (grafted_at) {
      when += fmt::format(", {} to {}", zone.local_text(*grafted_at + from),
                          zone.local_text(*grafted_at + from + stage.length));
    }
    page.banner(stage.name);
    page.paragraph(fmt::format(
        "{}, {}", when,
        stage.where == daemon::StagePlace::chamber ? "in the chamber" : "on the bench"));
    page.paragraph(stage_asks(regime, i, units), 15);
    for (const auto& task : stage.tasks) page.paragraph("-  " + task, 12);
    page.space(2);
    from += stage.length;
  }
  page.caution(
      "Mains power and mist stay apart: plugs and supplies outside and above the water, everything "
      "behind a 30 mA residual-current device (or class A GFCI). Ask an electrician.");
}

}  // namespace takehold::client
