// worksheet: the pages taken to the bench on a day of work.
#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "client/command/batch_view.hpp"
#include "client/command/command_tree.hpp"
#include "client/command/opened_book.hpp"
#include "client/command/printing.hpp"
#include "client/command/work_pages.hpp"
#include "client/season/planned.hpp"
#include "daemon/healing/regime_toml.hpp"

namespace takehold::client {
namespace {

struct Typed {
  std::vector<std::string> graft;
  bool sowing = false, chamber = false;
  std::string batch;
  std::optional<std::string> on;
  TypedPaper paper;

  bool names_something() const { return sowing || chamber || !graft.empty() || !batch.empty(); }
};

class Worksheet {
 public:
  Worksheet(const Book& book, Paper& paper, Day day, std::string heading)
      : book_(book), day_(day), page_(paper, std::move(heading), sensors::to_string(day)) {}

  void sowing(bool asked) {
    if (draw_sowing_sheet(page_, book_, day_)) {
      parts_.push_back("sowing");
    } else if (asked) {
      throw sensors::Refused({"nothing-to-print", "the accepted plan sows nothing on this day", "",
                              sensors::to_string(day_), "takehold calendar"});
    }
  }
  /// Together, for they may share rootstocks.
  void graft(const std::vector<Pairing>& pairings, sensors::Instant now, Units units) {
    if (pairings.empty()) return;
    const BookMatch told =
        match_in_book(book_, {pairings, season_tolerance(book_), pairings.size() > 1}, now);
    for (const MatchShare& share : told.match.shares) {
      draw_graft_sheet(page_, book_, told, share, units);
      parts_.push_back("graft " + share.pairing);
    }
    draw_graft_caution(page_);
  }
  void chamber(const daemon::Regime& regime, std::optional<Instant> grafted_at, Units units) {
    draw_chamber_card(page_, regime, grafted_at, book_.time_zone(), units);
    parts_.push_back("chamber");
  }

  const std::vector<std::string>& parts() const { return parts_; }
  bool was_shortened() const { return page_.was_shortened(); }

 private:
  const Book& book_;
  Day day_;
  SheetPage page_;
  std::vector<std::string> parts_;
};

daemon::Regime season_regime(const Book& book) {
  auto regime = daemon::find_regime(season_in(book).regime, regime_folders());
  if (!regime) throw sensors::Refused(regime.error());
  return *std::move(regime);
}

// Everything planned for the day, where it is known well enough to be printed.
void add_planned(Worksheet& sheet, const Book& book, Day day, Context& context) {
  sheet.sowing(false);
  std::vector<Pairing> ready;
  const auto measured = measured_pairings(book);
  for (const PlannedGraft& graft : book.all<PlannedGraft>()) {
    if (graft.graft_on != day) continue;
    const auto known = std::find_if(measured.begin(), measured.end(), [&](const Pairing& pairing) {
      return pairing.id == graft.pairing;
    });
    if (known != measured.end()) {
      ready.push_back(*known);
    } else {
      context.out.note({"not-measured", graft.pairing,
                        "no seedling of one side has been measured in full: takehold measure"});
    }
  }
  sheet.graft(ready, context.now, context.units);
  if (sheet.parts().empty()) {
    throw sensors::Refused({"nothing-to-print", "nothing is planned for this day", "",
                            sensors::to_string(day), "name it: --sowing, --graft P1, --chamber"});
  }
}

std::string heading_of(const Typed& words) {
  if (words.chamber || !words.batch.empty()) return "Healing chamber";
  if (!words.graft.empty() && !words.sowing) return "Grafting";
  return words.sowing && words.graft.empty() ? "Sowing" : "Work of the day";
}

void print_worksheet(const Typed& words, Context& context) {
  const Book book = open_book(context, BookUse::reading);
  Day day = book.time_zone().day_of(context.now);
  if (words.on) day = typed(sensors::parse_day(*words.on));
  std::vector<Pairing> pairings;
  for (const auto& name : words.graft) pairings.push_back(find_pairing(book, name));
  std::optional<Batch> batch;
  if (!words.batch.empty()) batch = find_numbered<Batch>(book, words.batch);
  Paper paper = open_paper(words.paper, paper_size(words.paper.paper), context.now);
  Worksheet sheet(book, paper, day, heading_of(words));
  if (words.sowing) sheet.sowing(true);
  sheet.graft(pairings, context.now, context.units);
  if (batch) {
    sheet.chamber(regime_of(*batch), batch->at, context.units);
  } else if (words.chamber) {
    sheet.chamber(season_regime(book), std::nullopt, context.units);
  }
  if (!words.names_something()) add_planned(sheet, book, day, context);
  paper.finish();
  std::vector<std::string> shortened;
  if (sheet.was_shortened()) shortened.emplace_back("worksheet");
  note_trouble(context, shortened, paper.letters_without_font());
  say_printed(context, words.paper, paper.pages(), {{"parts", sheet.parts()}});
}

}  // namespace

void add_worksheet(CommandTree& tree) {
  CLI::App& app = tree.command(
      "worksheet",
      {kDaily, "pages for the bench: what to sow, who goes onto whom, the chamber's card",
       "Left to itself it prints what the accepted plan has for the day.",
       "worksheet --chamber\nworksheet --graft P1\nworksheet --sowing --on 2027-03-20"});
  const auto words = std::make_shared<Typed>();
  app.add_flag("--sowing", words->sowing, "what to sow on the day");
  app.add_option("--graft", words->graft, "who goes onto whom, of these pairings");
  app.add_flag("--chamber", words->chamber, "a card for the chamber, by the season's healing plan");
  app.add_option("--batch", words->batch, "the same by the plan and the days of this batch");
  app.add_option("--on", words->on, "the day; left out: today");
  add_paper(app, words->paper, "worksheet.pdf");
  tree.action(app, [words](Context& context) { print_worksheet(*words, context); });
}

}  // namespace takehold::client
