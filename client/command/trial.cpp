// trial: a small trial of two ways or two pairings, laid out over trays, with its power.
#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "client/command/batch_fates.hpp"
#include "client/command/command_tree.hpp"
#include "client/command/opened_book.hpp"
#include "client/takes/power.hpp"
#include "client/takes/take_model.hpp"
#include "client/takes/trial.hpp"
#include "client/terminal/numbers.hpp"
#include "client/terminal/table.hpp"

namespace takehold::client {

using nlohmann::json;

namespace {

constexpr double kWanted = 0.8;  // power of a trial whose size is left out: common practice

struct Typed {
  std::vector<std::string> pairings, ways;
  std::vector<double> rates;
  std::optional<int> each, cells;
  std::uint64_t seed = 1;
};

struct Trial {
  std::vector<std::string> pairings;  ///< the ways are tried within each; or the two are the ways
  std::vector<std::string> ways;
  double rates[2] = {0, 0};
  bool assumed = false;  ///< the second rate is not from records
  int each = 0;          ///< grafts of either way, over all pairings
  int cells = 6;
  double power = 0;
  std::vector<TrialPlace> places;
};

[[noreturn]] void wrong(const char* code, std::string title, const char* where, std::string hint) {
  throw WrongUsage({code, std::move(title), "", where, std::move(hint)});
}

void check(const Typed& words) {
  if (!words.ways.empty() && words.ways.size() != 2) {
    wrong("bad-ways", "a trial is between two ways", "--ways", "as --ways splice,cleft");
  }
  if (words.ways.empty() && words.pairings.size() != 2) {
    wrong("bad-ways", "name two pairings, or two ways for one", "--ways", "as --ways splice,cleft");
  }
  if (!words.rates.empty() && words.rates.size() != 2) {
    wrong("bad-rates", "two rates, the usual one first", "--rates", "as --rates 0.80,0.92");
  }
  for (const double rate : words.rates) {
    if (!(rate > 0 && rate < 1)) wrong("bad-rates", "a rate lies between 0 and 1", "--rates", "");
  }
  if (words.each && (*words.each < 1 || *words.each > kMostExact)) {
    wrong("out-of-range", fmt::format("from 1 to {} grafts each way", kMostExact), "--each", "");
  }
  if (words.cells && *words.cells < 1) wrong("out-of-range", "a tray has cells", "--cells", "");
}

void set_rates(Trial& trial, const Typed& words, const Book& book) {
  if (!words.rates.empty()) {
    std::copy(words.rates.begin(), words.rates.end(), trial.rates);
    return;
  }
  const auto record = takes_of(book);
  std::vector<Tally> tallies;
  for (const auto& row : record.pairings) tallies.push_back(row.tally);
  const TakeModel model(tallies);
  const auto rate_of = [&](const std::string& pairing) {
    Tally tally;
    for (const auto& row : record.pairings) {
      if (row.pairing == pairing) tally = row.tally;
    }
    return model.belief(tally).mean();
  };
  trial.rates[0] = rate_of(trial.pairings.front());
  trial.assumed = !words.ways.empty();
  // Half of the failures saved: the least that would be worth a change (assumed).
  trial.rates[1] = trial.assumed ? 1 - (1 - trial.rates[0]) / 2 : rate_of(trial.pairings.back());
}

void set_size(Trial& trial, const Typed& words) {
  const auto enough = trials_for_power(trial.rates[0], trial.rates[1], kWanted);
  if (!words.each && !enough) {
    throw sensors::Refused({"too-alike",
                            fmt::format("{:.2f} and {:.2f} are too alike to be told apart with {} "
                                        "grafts each way",
                                        trial.rates[0], trial.rates[1], kMostExact),
                            "", "--rates", "try a bolder change, or say how many with --each"});
  }
  trial.each = words.each ? *words.each : *enough;
  trial.power = fisher_power(trial.each, trial.rates[0], trial.rates[1]);
}

Trial design(const Typed& words, const Book& book) {
  check(words);
  Trial trial;
  for (const auto& typed_name : words.pairings) {
    trial.pairings.push_back(find_pairing(book, typed_name).names());
  }
  trial.ways = words.ways.empty() ? trial.pairings : words.ways;
  trial.cells = words.cells ? *words.cells : season_in(book).cells_per_tray;
  set_rates(trial, words, book);
  set_size(trial, words);
  const int within = words.ways.empty() ? 1 : static_cast<int>(trial.pairings.size());
  const int of_each = (trial.each + within - 1) / within;
  trial.places = lay_out_trial(within, of_each, trial.cells, words.seed);
  return trial;
}

std::string pairing_at(const Trial& trial, const TrialPlace& place) {
  const bool between = trial.ways == trial.pairings;
  return trial.pairings[static_cast<std::size_t>(between ? place.way : place.pairing)];
}

json trial_json(const Trial& trial) {
  json places = json::array();
  for (const TrialPlace& place : trial.places) {
    places.push_back({{"tray", place.tray},
                      {"place", place.place},
                      {"pairing", pairing_at(trial, place)},
                      {"way", trial.ways[static_cast<std::size_t>(place.way)]}});
  }
  return {{"pairings", trial.pairings},     {"ways", trial.ways},         {"rates", trial.rates},
          {"rates_assumed", trial.assumed}, {"each", trial.each},         {"power", trial.power},
          {"cells", trial.cells},           {"places", std::move(places)}};
}

std::string layout_text(const Trial& trial, const TerminalStyle& style) {
  Table table({{"tray", Align::right}, {"places in order"}});
  std::string row;
  for (std::size_t i = 0; i < trial.places.size(); ++i) {
    const TrialPlace& place = trial.places[i];
    row += place.way == 0 ? "A" : "B";
    if (trial.ways != trial.pairings && trial.pairings.size() > 1) {
      row += std::to_string(place.pairing + 1);
    }
    row += ' ';
    if (i + 1 == trial.places.size() || trial.places[i + 1].tray != place.tray) {
      table.add({std::to_string(place.tray), std::exchange(row, "")});
    }
  }
  return table.text(style);
}

std::string trial_text(const Trial& trial, const TerminalStyle& style) {
  std::string text = fmt::format("A = {}\nB = {}\n", trial.ways.front(), trial.ways.back());
  if (trial.ways != trial.pairings) {
    for (std::size_t i = 0; i < trial.pairings.size(); ++i) {
      text += fmt::format("{}{}\n", trial.pairings.size() > 1 ? fmt::format("{} = ", i + 1) : "on ",
                          trial.pairings[i]);
    }
  }
  text += fmt::format("{} of each; if the rates are {} and {}{}, the chance to show it is {}\n",
                      counted(trial.each, "graft", "grafts"), fixed(trial.rates[0] * 100, 0) + " %",
                      fixed(trial.rates[1] * 100, 0) + " %", trial.assumed ? " (assumed)" : "",
                      chance(trial.power));
  text += "Every tray holds as many of one as of the other, in an order drawn by lot:\n";
  text += layout_text(trial, style);
  text +=
      "Keep to this order, treat all trays alike, and count takes without looking at the letter.\n";
  return text;
}

}  // namespace

void add_trial(CommandTree& tree) {
  CLI::App& group = tree.command("trial", {kLearning, "find out by a fair trial", "", ""});
  CLI::App& app = tree.command_under(
      group, "design",
      {kLearning, "which grafts, how many, in which places, and how likely it is to tell",
       "Two pairings against each other, or two ways (methods, mixes, whatever) within one or\n"
       "more pairings. Without --each: as many as tell a difference 8 times in 10.",
       "trial design P1 P2\ntrial design P1 --ways splice,cleft --each 24"});
  const auto words = std::make_shared<Typed>();
  app.add_option("pairings", words->pairings, "the pairings, as P1")->required();
  app.add_option("--ways", words->ways, "two ways, by any two words")->delimiter(',');
  app.add_option("--each", words->each, "grafts of each way, over all pairings");
  app.add_option("--rates", words->rates, "the rates it should tell apart: 0.80,0.92")
      ->delimiter(',');
  app.add_option("--cells", words->cells, "cells of a tray; left out: the season's");
  app.add_option("--seed", words->seed, "another order by lot");
  tree.action(app, [words](Context& context) {
    const Book book = open_book(context, BookUse::reading);
    const Trial trial = design(*words, book);
    context.out.text(trial_text(trial, context.out.style()));
    context.out.document(trial_json(trial));
  });
}

}  // namespace takehold::client
