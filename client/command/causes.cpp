// causes: what killed grafts, what failures go with, and what is worth trying next season.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "client/command/batch_fates.hpp"
#include "client/command/command_tree.hpp"
#include "client/command/loss_table.hpp"
#include "client/command/opened_book.hpp"
#include "client/takes/things_to_try.hpp"
#include "client/terminal/interval_bar.hpp"
#include "client/terminal/numbers.hpp"
#include "client/terminal/table.hpp"
#include "client/terminal/text_width.hpp"

namespace takehold::client {

using nlohmann::json;

namespace {

constexpr int kBar = 11;            // columns from an eighth of the odds to eight times
constexpr double kByChance = 0.05;  // batches differing oftener than this by chance alone do not

json found_json(const WhatSpoils& found) {
  json effects = json::array(), left = json::array();
  for (const FactorEffect& e : found.effects) {
    effects.push_back({{"factor", std::string(to_text(e.factor))},
                       {"of", e.of},
                       {"odds_ratio", e.odds_ratio},
                       {"low", e.low},
                       {"high", e.high}});
  }
  for (const FactorLeftOut& l : found.left_out) {
    left.push_back({{"factor", std::string(to_text(l.factor))}, {"code", l.code}, {"why", l.why}});
  }
  return {{"grafts", found.grafts},
          {"failures", found.failures},
          {"used", found.used},
          {"effects", std::move(effects)},
          {"left_out", std::move(left)},
          {"pairing_sd", found.pairing_sd ? json(*found.pairing_sd) : json()},
          {"batches", {{"count", found.batches.groups}, {"p", found.batches.p}}}};
}

std::string trial_words(const Try& one) {
  if (!one.grafts_each) return "";
  const std::string ways = one.other_pairing.empty()
                               ? fmt::format(" --ways {}", fmt::join(one.ways, ","))
                               : fmt::format(" \"{}\"", one.other_pairing);
  return fmt::format("trial design \"{}\"{} --each {} --rates {:.2f},{:.2f}", one.pairing, ways,
                     *one.grafts_each, one.rate_now, one.rate_tried);
}

json tries_json(const std::vector<Try>& tries) {
  json list = json::array();
  for (const Try& one : tries) {
    const std::string words = trial_words(one);
    list.push_back({{"what", one.what},
                    {"why", one.why},
                    {"source", one.source},
                    {"gain_per_100", one.gain_per_100},
                    {"grafts_each", one.grafts_each ? json(*one.grafts_each) : json()},
                    {"command", words.empty() ? json() : json("takehold " + words)}});
  }
  return list;
}

std::string effects_text(const WhatSpoils& found, const TerminalStyle& style) {
  std::string text;
  if (!found.effects.empty()) {
    text +=
        fmt::format("\nWhat failures go with: {} grafts, of which {} failed; {} known in full\n",
                    found.grafts, found.failures, found.used);
    Table table(
        {{"with"}, {"odds of a take"}, {"19 times in 20"}, {"/8   1   x8", Align::right}, {""}});
    for (const FactorEffect& e : found.effects) {
      table.add({e.of, fmt::format("times {:.2f}", e.odds_ratio),
                 fmt::format("{:.2f} to {:.2f}", e.low, e.high),
                 difference_bar(std::log(e.low), std::log(e.odds_ratio), std::log(e.high),
                                std::log(8.0), kBar, style),
                 e.is_clear() ? "clear" : "may be nothing"});
    }
    text += table.text(style);
    text += wrapped(
        "These go together; that does not say why. Grafts were not dealt out by chance, so only a "
        "trial can tell.",
        style.width);
    text += '\n';
  }
  for (const FactorLeftOut& l : found.left_out) {
    text +=
        wrapped(fmt::format("not compared: {}: {}", to_text(l.factor), l.why), style.width, "  ");
    text += '\n';
  }
  return text;
}

std::string batches_text(const WhatSpoils& found) {
  if (found.batches.groups < 2) return "";
  if (found.batches.p >= kByChance)
    return "Batches differ by no more than chance would make them.\n";
  return fmt::format(
      "Batches differ by more than chance would make them ({} times in 1000): the day "
      "matters, or who and what was at hand.\n",
      fixed(found.batches.p * 1000, found.batches.p < 0.001 ? 3 : 0));
}

std::string tries_text(const std::vector<Try>& tries, const TerminalStyle& style) {
  if (tries.empty()) return "";
  std::string text = "\nMost worth trying next season\n";
  int number = 0;
  for (const Try& one : tries) {
    text += wrapped(fmt::format("{}. {}", ++number, one.what), style.width, " ") + "\n";
    text += wrapped(one.why, style.width, "    ") + "\n";
    text += fmt::format("    worth about {} more plants of 100 grafts ({})\n",
                        fixed(one.gain_per_100, 1), one.source);
    if (one.grafts_each) {
      text += fmt::format("    to find out: {} grafts each way\n    takehold {}\n",
                          *one.grafts_each, trial_words(one));
    } else {
      text += "    a difference this small would take over 300 grafts each way to show\n";
    }
  }
  return text;
}

void show_causes(Context& context) {
  const auto batches = batch_fates(open_book(context, BookUse::reading));
  const WhatSpoils found = what_spoils(batches);
  const auto tries = things_to_try(batches, found);
  const TerminalStyle& style = context.out.style();
  context.out.text(losses_text(batches, style) + effects_text(found, style) + batches_text(found) +
                   tries_text(tries, style));
  json document = found_json(found);
  document["losses"] = losses_json(batches);
  document["later_losses"] = later_losses_json(batches);
  document["try"] = tries_json(tries);
  context.out.document(std::move(document));
}

}  // namespace

void add_causes(CommandTree& tree) {
  CLI::App& app = tree.command(
      "causes",
      {kLearning, "what grafts were lost to, what failures go with, what to try next",
       "The odds are of a logistic regression over all grafts judged. What goes with failure is\n"
       "not yet what makes it: a trial tells.",
       "causes"});
  tree.action(app, [](Context& context) { show_causes(context); });
}

}  // namespace takehold::client
