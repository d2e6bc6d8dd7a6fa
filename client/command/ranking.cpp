#include "client/command/ranking.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>

#include "client/command/command_tree.hpp"
#include "client/command/crops.hpp"
#include "client/command/grown.hpp"
#include "client/command/plant_words.hpp"
#include "client/season/sowing.hpp"
#include "client/terminal/interval_bar.hpp"
#include "client/terminal/table.hpp"
#include "client/terminal/text_width.hpp"

namespace takehold::client {
namespace {

constexpr int kBar = 21, kShortBar = 11;  // columns of an interval drawn
constexpr int kWide = 100;                // where names leave room for the longer one

/// Scores of one plant: a row scored as a whole is one plant 0.
using ScoresByPlant = std::map<std::pair<std::string, int>, std::vector<double>>;

std::map<std::string, ScoresByPlant> scores_in(const Book& book, const std::string& season,
                                               RemarkAbout about) {
  const SeasonCalendar seasons(book);
  std::map<std::string, ScoresByPlant> scores;
  for (const Remark& remark : book.all<Remark>()) {
    if (remark.about != about || !remark.score) continue;
    if (seasons.at(remark.at) != season) continue;
    const GrownPlants plants = grown_plants(book, remark.subject);
    auto& of_it = scores[plants.variety + (plants.grafted ? " (grafted)" : "")];
    for (const int plant : remark.plants.empty() ? std::vector{0} : remark.plants) {
      of_it[{remark.subject, plant}].push_back(*remark.score);
    }
  }
  return scores;
}

/// Sown in no season before that one.
bool is_first_time(const Book& book, const SeasonCalendar& seasons, const std::string& variety,
                   const std::string& season) {
  for (const Sowing& sowing : book.all<Sowing>()) {
    if (variety_of_lot(book, sowing.lot) != variety) continue;
    if (seasons.at(sowing.at) != season) return false;
  }
  return true;
}

std::string ranking_text(const std::vector<RankedVariety>& all, const TerminalStyle& style) {
  const bool wide = style.width >= kWide;
  Table table({{"place", Align::right},
               {"variety"},
               {"plants", Align::right},
               {"mean", Align::right},
               {"9 in 10", Align::right},
               {wide ? "0         5        10" : "0    5   10", Align::right},
               {""}});
  for (const RankedVariety& one : all) {
    const Ranked& r = one.ranked;
    const double low = std::clamp(r.low, 0.0, kBestScore);
    const double high = std::clamp(r.high, 0.0, kBestScore);
    table.add({place_text(all, one), r.variety, std::to_string(r.plants),
               fmt::format("{:.1f}", r.mean), fmt::format("{:.1f} to {:.1f}", low, high),
               interval_bar(low / kBestScore, r.mean / kBestScore, high / kBestScore,
                            wide ? kBar : kShortBar, style),
               one.first_time ? "new" : ""});
  }
  return table.text(style) + "\n" +
         wrapped(
             "Varieties of one place are not told apart by so few plants: the line is where "
             "the mean of many plants would lie, 9 times in 10.",
             style.width) +
         "\n";
}

struct Typed {
  std::string by = "taste";
  bool first_time = false;
};

void show_ranking(const Typed& words, Context& context) {
  const auto about = typed_word<RemarkAbout>(words.by, "--by", "unknown-word");
  if (!is_scored(about)) {
    throw WrongUsage({"unknown-word", "only taste, looks and vigour are scored", "", "--by", ""});
  }
  const Book book = open_book(context, BookUse::reading);
  const std::string season = last_scored(book, about);
  auto all = ranking_in(book, season, about);
  if (words.first_time)
    std::erase_if(all, [](const RankedVariety& one) { return !one.first_time; });
  context.out.text(all.empty()
                       ? fmt::format("No {} has been scored yet, as: takehold remark S4 {} 8\n",
                                     words.by, words.by)
                       : ranking_text(all, context.out.style()));
  context.out.document({{"by", words.by},
                        {"season", season.empty() ? nlohmann::json() : nlohmann::json(season)},
                        {"rows", ranking_json(all)}});
}

}  // namespace

std::string last_scored(const Book& book, RemarkAbout about) {
  std::optional<sensors::Instant> last;
  for (const Remark& remark : book.all<Remark>()) {
    if (remark.about == about && (!last || remark.at > *last)) last = remark.at;
  }
  return last ? SeasonCalendar(book).at(*last) : "";
}

std::vector<RankedVariety> ranking_in(const Book& book, const std::string& season,
                                      RemarkAbout about) {
  std::vector<Scored> scored;
  for (const auto& [variety, plants] : scores_in(book, season, about)) {
    scored.push_back({variety, {}});
    for (const auto& [plant, scores] : plants) scored.back().by_plant.push_back(mean_of(scores));
  }
  const SeasonCalendar seasons(book);
  std::vector<RankedVariety> all;
  for (Ranked& ranked : ranking_of(std::move(scored))) {
    const std::string name = ranked.variety.substr(0, ranked.variety.find(" (grafted)"));
    const bool first = is_first_time(book, seasons, name, season);
    all.push_back({std::move(ranked), first});
  }
  return all;
}

std::string place_text(const std::vector<RankedVariety>& all, const RankedVariety& one) {
  const auto sharing = std::count_if(all.begin(), all.end(), [&](const RankedVariety& other) {
    return other.ranked.place == one.ranked.place;
  });
  return std::to_string(one.ranked.place) + (sharing > 1 ? "=" : "");
}

nlohmann::json ranking_json(const std::vector<RankedVariety>& all) {
  nlohmann::json rows = nlohmann::json::array();
  for (const RankedVariety& one : all) {
    rows.push_back({{"place", one.ranked.place},
                    {"variety", one.ranked.variety},
                    {"plants", one.ranked.plants},
                    {"mean", one.ranked.mean},
                    {"p05", one.ranked.low},
                    {"p95", one.ranked.high},
                    {"first_time", one.first_time}});
  }
  return rows;
}

void add_ranking(CommandTree& tree) {
  CLI::App& app = tree.command(
      "ranking",
      {kLearning, "varieties in order of your own scores, ties and few plants respected",
       "By what `remark` recorded. Plants of one variety scatter, and how much is learned from\n"
       "all of them together; varieties that so few plants do not tell apart share a place.",
       "ranking\nranking --by vigour\nranking --first-time"});
  const auto words = std::make_shared<Typed>();
  app.add_option("--by", words->by, "taste | looks | vigour");
  app.add_flag("--first-time", words->first_time, "only varieties never grown before");
  tree.action(app, [words](Context& context) { show_ranking(*words, context); });
}

}  // namespace takehold::client
