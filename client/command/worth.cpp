#include "client/command/worth.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "client/command/command_tree.hpp"
#include "client/command/opened_book.hpp"
#include "client/command/recording.hpp"
#include "client/terminal/interval_bar.hpp"
#include "client/terminal/numbers.hpp"
#include "client/terminal/table.hpp"
#include "client/terminal/text_width.hpp"

namespace takehold::client {

using nlohmann::json;

namespace {

constexpr int kBar = 21;

json or_null(const std::optional<double>& value) {
  return value ? json(*value) : json();
}

json crop_json(const Crop& crop) {
  return {{"plants", crop.plants},
          {"harvested_kg", crop.kilograms},
          {"mean_kg", or_null(crop.mean())},
          {"by_plant_kg", crop.by_plant},
          {"cost_a_plant", or_null(crop.cost_a_plant)},
          {"died", crop.died},
          {"diseased", crop.diseased},
          {"tastes", crop.tastes}};
}

json interval_json(const std::optional<double>& middle, const std::optional<Interval>& between) {
  return {{"more", or_null(middle)},
          {"low", between ? json(between->low) : json()},
          {"high", between ? json(between->high) : json()},
          {"method", between ? json("Welch") : json()}};
}

/// Half the length of a line that all differences fit on, a round number.
double reach_of(const std::vector<ScionCrops>& all) {
  double most = 0;
  for (const ScionCrops& crops : all) {
    const Worth worth = worth_of(crops.grafted, crops.own_rooted);
    most = std::max(most, std::abs(worth.more_kg.value_or(0)));
    if (!worth.between) continue;
    most = std::max({most, std::abs(worth.between->low), std::abs(worth.between->high)});
  }
  for (const double round : {0.5, 1.0, 2.0, 5.0, 10.0, 20.0}) {
    if (most <= round) return round;
  }
  return 50;
}

std::string kilograms(const Crop& crop) {
  return crop.mean() ? fmt::format("{:.2f}", *crop.mean()) : "-";
}

std::string worth_table(const std::vector<ScionCrops>& all, const TerminalStyle& style) {
  const double reach = reach_of(all);
  Table table({{"kg a plant"},
               {"grafted", Align::right},
               {"own roots", Align::right},
               {"19 in 20", Align::right},
               {fmt::format("{:<8}  0  {:>8}", fmt::format("{:g}", -reach),
                            fmt::format("{:g} more", reach)),
                Align::right}});
  for (const ScionCrops& crops : all) {
    const Worth worth = worth_of(crops.grafted, crops.own_rooted);
    std::string between = "-", bar;
    if (worth.between) {
      between = fmt::format("{:.2f} to {:.2f}", worth.between->low, worth.between->high);
      bar = difference_bar(worth.between->low, *worth.more_kg, worth.between->high, reach, kBar,
                           style);
    }
    table.add({crops.scion, kilograms(crops.grafted), kilograms(crops.own_rooted), between, bar});
  }
  return table.text(style);
}

void show_worth(const std::string& typed_season, Context& context) {
  const Book book = open_book(context, BookUse::reading);
  const auto seasons = seasons_picked(book);
  if (!typed_season.empty() &&
      std::find(seasons.begin(), seasons.end(), typed_season) == seasons.end()) {
    refuse("not-there", "nothing was picked in a season of that name", "--season",
           seasons.empty() ? "" : fmt::format("known: {}", fmt::join(seasons, ", ")));
  }
  const std::string season = !typed_season.empty() ? typed_season
                             : seasons.empty()     ? ""
                                                   : seasons.back();
  const auto all = crops_of(book, season);
  json list = json::array();
  std::string text = worth_table(all, context.out.style());
  for (const ScionCrops& crops : all) {
    list.push_back(worth_json(crops));
    text += "\n" + wrapped(worth_paragraph(crops), context.out.style().width) + "\n";
  }
  if (all.empty()) {
    text =
        "Nothing has been picked yet. Weigh some plants one by one, grafted and on their own\n"
        "roots: takehold harvest\n";
  }
  context.out.text(text);
  context.out.document(
      {{"season", season.empty() ? json() : json(season)}, {"scions", std::move(list)}});
}

}  // namespace

json worth_json(const ScionCrops& crops) {
  const Worth worth = worth_of(crops.grafted, crops.own_rooted);
  return {
      {"scion", crops.scion},
      {"grafted", crop_json(crops.grafted)},
      {"own_rooted", crop_json(crops.own_rooted)},
      {"difference_kg", interval_json(worth.more_kg, worth.between)},
      {"difference_for_money_kg", interval_json(worth.more_kg_for_money, worth.between_for_money)},
      {"more_cost", or_null(worth.more_cost)},
      {"cost_a_more_kg", or_null(worth.cost_a_more_kg)},
      {"text", worth_paragraph(crops)}};
}

std::string worth_paragraph(const ScionCrops& crops) {
  return worth_text(crops.scion, worth_of(crops.grafted, crops.own_rooted), crops.doubts);
}

void add_worth(CommandTree& tree) {
  CLI::App& app = tree.command(
      "worth",
      {kLearning, "was it worth it: grafted plants against the same variety on its own roots",
       "By what `setout` and `harvest` recorded. Weighed plant by plant, the difference has an\n"
       "interval (Welch); what a living grafted plant cost is the cost of a graft made divided\n"
       "by its take rate. Prices stand in the sheet: price of a lot, cell_price, graft_price.",
       "worth\nworth --season 2027"});
  const auto season = std::make_shared<std::string>();
  app.add_option("--season", *season, "left out: the last in which something was picked");
  tree.action(app, [season](Context& context) { show_worth(*season, context); });
}

}  // namespace takehold::client
