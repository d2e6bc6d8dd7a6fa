// `takehold plan`: what to sow on which day, so that enough stems match on one day.
#include <fmt/format.h>

#include <filesystem>
#include <nlohmann/json.hpp>

#include "client/book/load_season.hpp"
#include "client/command/accept_plan.hpp"
#include "client/command/batch_view.hpp"
#include "client/command/command_tree.hpp"
#include "client/command/noun_options.hpp"
#include "client/command/opened_book.hpp"
#include "client/command/plan_text.hpp"
#include "client/command/season_request.hpp"
#include "client/command/text_file.hpp"
#include "client/plan/simple_plan.hpp"
#include "client/season/sowing.hpp"
#include "daemon/healing/regime_toml.hpp"

namespace takehold::client {
namespace {

using nlohmann::json;

struct Words {
  std::optional<std::string> sheet, on;
  bool accept = false;
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

/// A sheet alone: nothing is opened and nothing recorded.
SeasonPlan plan_of_sheet(Context& context, const Words& words) {
  const Sheet sheet = read_sheet(read_text_file(*words.sheet), *words.sheet);
  const auto zone = sheet.season.time_zone
                        ? sensors::TimeZone::named(*sheet.season.time_zone).value()
                        : sensors::TimeZone::utc();
  context.use_units_of_season(sheet.season.units);
  context.out.note({"sheet-alone", *words.sheet,
                    "planned from the sheet alone: take rates and sowings of your book are not "
                    "used"});
  return plan_simply(request_of(sheet, made_on(words, zone, context.now),
                                regime_named(sheet.season.regime, folder_of(*words.sheet))));
}

SeasonPlan plan_of_book(Context& context, const Words& words, const Book& book) {
  const Season season = season_in(book);
  if (!book.all<Sowing>().empty()) {
    context.out.note({"sowings-not-counted", "",
                      "what is sown already is off the seed on hand, but this plan does not yet "
                      "count its seedlings"});
  }
  const std::string beside = words.sheet ? folder_of(*words.sheet) : "";
  return plan_simply(request_of(book, made_on(words, book.time_zone(), context.now),
                                regime_named(season.regime, beside)));
}

void show(Context& context, const SeasonPlan& plan, const json& accepted) {
  context.out.text(plan_text(plan, context.out.style()));
  context.out.document({{"plan", plan}, {"accepted", accepted}});
}

void accept(Context& context, const Words& words) {
  std::optional<Sheet> sheet;
  if (words.sheet) sheet = read_sheet(read_text_file(*words.sheet), *words.sheet);
  Book book = open_book(context, sheet ? BookUse::recording : BookUse::reading);
  if (sheet) load_season(book, *sheet, "season load " + *words.sheet, context.now);
  const SeasonPlan plan = plan_of_book(context, words, book);
  const Accepted accepted = accept_plan(book, plan, "plan --accept", context.now);
  if (accepted.without_seed > 0) {
    context.out.note({"seed-to-buy", "",
                      fmt::format("{} left out of the accepted plan: the seed is not in the book "
                                  "yet. Once bought: add the lot, then accept again",
                                  counted(accepted.without_seed, "sowing is", "sowings are"))});
  }
  show(context, plan, {{"sowings", accepted.sowings}, {"grafts", accepted.grafts}});
  context.out.line(fmt::format("\nAccepted: {} and {}. See takehold calendar.",
                               counted(accepted.sowings, "sowing", "sowings"),
                               counted(accepted.grafts, "graft session", "graft sessions")));
}

void plan(Context& context, const Words& words) {
  if (words.accept) return accept(context, words);
  if (words.sheet) return show(context, plan_of_sheet(context, words), nullptr);
  const Book book = open_book(context, BookUse::reading);
  show(context, plan_of_book(context, words, book), nullptr);
}

}  // namespace

void add_plan(CommandTree& tree) {
  CLI::App& app = tree.command(
      "plan",
      {kPlanning, "what to sow when, and how many seeds, so that stems match",
       "With a sheet alone no book is opened. --accept takes the plan into the book (with a\n"
       "sheet: loads it first); `today` then reminds of it day by day.",
       "plan 2027.toml\nplan 2027.toml --accept\nplan --json"});
  const auto words = std::make_shared<Words>();
  app.add_option("SHEET", words->sheet, "plan from this sheet instead of the book");
  app.add_flag("--accept", words->accept, "take the plan into the book");
  app.add_option("--on", words->on, "the day the plan is made: no earlier day is proposed");
  tree.action(app, [words](Context& context) { plan(context, *words); });
}

}  // namespace takehold::client
