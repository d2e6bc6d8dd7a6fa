// `takehold plan`: what to sow on which day, so that enough stems match on one day.
#include <fmt/format.h>
#include <unistd.h>

#include <chrono>
#include <filesystem>
#include <iostream>
#include <nlohmann/json.hpp>

#include "client/book/load_season.hpp"
#include "client/command/accept_plan.hpp"
#include "client/command/batch_view.hpp"
#include "client/command/command_tree.hpp"
#include "client/command/noun_options.hpp"
#include "client/command/opened_book.hpp"
#include "client/command/plan_explain.hpp"
#include "client/command/plan_text.hpp"
#include "client/command/plan_trays.hpp"
#include "client/command/season_request.hpp"
#include "client/command/text_file.hpp"
#include "client/command/what_if.hpp"
#include "client/plan/season_planner.hpp"
#include "daemon/healing/regime_toml.hpp"

namespace takehold::client {
namespace {

using nlohmann::json;

struct Words {
  std::optional<std::string> sheet, on;
  bool accept = false;
  bool separate = false;
  bool trays = false;
  std::optional<std::string> explain, last_frost;
  int margin = 14;  // days after the last frost (common practice)
  std::vector<std::string> what_if;
};

/// The grower's own plans, and those beside the sheet, before the built-in ones.
daemon::Regime regime_named(const std::string& name, const std::string& beside) {
  auto folders = regime_folders();
  if (!beside.empty()) folders.insert(folders.begin(), beside);
  return daemon::find_regime(name, folders).value();
}

sensors::Day made_on(const Words& words, const sensors::TimeZone& zone, sensors::Instant now) {
  return words.on ? day_from(*words.on, "--on") : zone.day_of(now);
}

std::string folder_of(const std::string& file) {
  const auto folder = std::filesystem::path(file).parent_path();
  return folder.empty() ? "." : folder.string();
}

/// Says on a terminal's stderr how far a long plan is, once a second; nothing in its first.
class Progress {
 public:
  void at(int done, int all) {
    const auto now = std::chrono::steady_clock::now();
    if (!watched_ || now - said_ < std::chrono::seconds(1) || done == all) return;
    said_ = now;
    std::cerr << fmt::format("planning: {} of {}", done, counted(all, "pairing", "pairings"))
              << std::endl;
  }

 private:
  bool watched_ = ::isatty(STDERR_FILENO) == 1;
  std::chrono::steady_clock::time_point said_ = std::chrono::steady_clock::now();
};

SeasonPlan planned(const PlanRequest& request) {
  Progress progress;
  PlanWork work;
  work.progress = [&](int done, int all) { progress.at(done, all); };
  return plan_season(request, work);
}

/// What the command line changes in any request.
PlanRequest as_asked(const Words& words, PlanRequest request) {
  request.separate = words.separate;
  if (words.last_frost) {
    request.season.ready_on =
        day_from(*words.last_frost, "--last-frost") + std::chrono::days(words.margin);
  }
  return request;
}

/// A sheet alone: nothing is opened and nothing recorded.
PlanRequest request_of_sheet(Context& context, const Words& words) {
  const Sheet sheet = read_sheet(read_text_file(*words.sheet), *words.sheet);
  const auto zone = sheet.season.time_zone
                        ? sensors::TimeZone::named(*sheet.season.time_zone).value()
                        : sensors::TimeZone::utc();
  context.use_units_of_season(sheet.season.units);
  context.out.note({"sheet-alone", *words.sheet,
                    "planned from the sheet alone: take rates and sowings of your book are not "
                    "used"});
  return as_asked(words, request_of(sheet, made_on(words, zone, context.now),
                                    regime_named(sheet.season.regime, folder_of(*words.sheet))));
}

PlanRequest request_of_book(Context& context, const Words& words, const Book& book) {
  const Season season = season_in(book);
  const std::string beside = words.sheet ? folder_of(*words.sheet) : "";
  PlanRequest request = request_of(book, made_on(words, book.time_zone(), context.now),
                                   regime_named(season.regime, beside));
  add_knowledge(book, request);
  return as_asked(words, std::move(request));
}

void show(Context& context, const PlanRequest& request, const SeasonPlan& plan,
          const json& accepted) {
  context.out.text(plan_text(plan, context.out.style()));
  json document{{"plan", plan}, {"accepted", accepted}};
  document.update(trays_json(request, plan));
  context.out.document(document);
}

void show_trays(Context& context, const PlanRequest& request, const SeasonPlan& plan) {
  context.out.text(trays_text(request, plan, context.out.style()));
  context.out.document(trays_json(request, plan));
}

void accept(Context& context, const Words& words) {
  std::optional<Sheet> sheet;
  if (words.sheet) sheet = read_sheet(read_text_file(*words.sheet), *words.sheet);
  Book book = open_book(context, sheet ? BookUse::recording : BookUse::reading);
  if (sheet) load_season(book, *sheet, "season load " + *words.sheet, context.now);
  const PlanRequest request = request_of_book(context, words, book);
  const SeasonPlan plan = planned(request);
  const Accepted accepted = accept_plan(book, plan, "plan --accept", context.now);
  if (accepted.without_seed > 0) {
    context.out.note({"seed-to-buy", "",
                      fmt::format("{} left out of the accepted plan: the seed is not in the book "
                                  "yet. Once bought: add the lot, then accept again",
                                  counted(accepted.without_seed, "sowing is", "sowings are"))});
  }
  show(context, request, plan, {{"sowings", accepted.sowings}, {"grafts", accepted.grafts}});
  context.out.line(fmt::format("\nAccepted: {} and {}. See takehold calendar.",
                               counted(accepted.sowings, "sowing", "sowings"),
                               counted(accepted.grafts, "graft session", "graft sessions")));
}

void explain(Context& context, const PlanRequest& request, const std::string& typed) {
  const SeasonPlan plan = planned(request);
  const PlannedPairing& pairing = pairing_in(plan, typed);
  const Explanation told = explain_pairing(request, pairing);
  context.out.text(explanation_text(request, plan, pairing, told, context.out.style()));
  context.out.document(
      {{"plan", plan}, {"explained", explanation_json(request, plan, pairing, told)}});
}

void try_change(Context& context, const PlanRequest& request,
                const std::vector<std::string>& typed) {
  PlanRequest changed = request;
  change(changed, typed, context.units);
  const SeasonPlan now = planned(request);
  const SeasonPlan then = planned(changed);
  context.out.text(what_if_text(now, then, typed, context.out.style()));
  context.out.document({{"plan", now}, {"what_if", {{"changes", typed}, {"plan", then}}}});
}

void plan(Context& context, const Words& words) {
  if (words.accept) return accept(context, words);
  const auto answer = [&](const PlanRequest& request) {
    if (words.explain) return explain(context, request, *words.explain);
    if (!words.what_if.empty()) return try_change(context, request, words.what_if);
    if (words.trays) return show_trays(context, request, planned(request));
    show(context, request, planned(request), nullptr);
  };
  if (words.sheet) return answer(request_of_sheet(context, words));
  answer(request_of_book(context, words, open_book(context, BookUse::reading)));
}

}  // namespace

void add_plan(CommandTree& tree) {
  CLI::App& app = tree.command(
      "plan",
      {kPlanning, "what to sow when, and how many seeds, so that stems match",
       "With a sheet alone no book is opened. --accept takes the plan into the book (with a\n"
       "sheet: loads it first); `today` then reminds of it day by day.",
       "plan 2027.toml\nplan 2027.toml --accept\nplan --explain P1\nplan --what-if "
       "confidence=0.95"});
  const auto words = std::make_shared<Words>();
  app.add_option("SHEET", words->sheet, "plan from this sheet instead of the book");
  app.add_flag("--accept", words->accept, "take the plan into the book");
  app.add_flag("--separate", words->separate,
               "plan each pairing by itself: no stems are shared between them");
  app.add_flag("--trays", words->trays,
               "which lot goes into which cell of which tray, and how many trays stand where");
  app.add_option("--explain", words->explain,
                 "why this day and this count for one pairing: P3, or \"Scion/Rootstock\"");
  app.add_option("--what-if", words->what_if,
                 "beside the plan, the same with changes: confidence=0.95 ready_on=2027-05-20\n"
                 "bench=22C window_days=3 tolerance_pct=15 want:P1=8 seed:IF-26=60");
  app.add_option("--last-frost", words->last_frost,
                 "ready so many days after the last frost, instead of the season's day");
  app.add_option("--margin", words->margin, "days after the last frost (14)")
      ->check(CLI::Range(0, 120));
  app.add_option("--on", words->on, "the day the plan is made: no earlier day is proposed");
  tree.action(app, [words](Context& context) { plan(context, *words); });
}

}  // namespace takehold::client
