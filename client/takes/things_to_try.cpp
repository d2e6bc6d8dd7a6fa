#include "client/takes/things_to_try.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "client/takes/power.hpp"
#include "client/takes/take_model.hpp"

namespace takehold::client {
namespace {

constexpr double kPower = 0.8;
constexpr double kHalved = 0.5;    // a noted cause, once worked on: assumed
constexpr double kLeast = 0.05;    // plants of 100 grafts: less is not worth a word
constexpr double kHighest = 0.99;  // no rate is promised above it

double logit(double p) {
  return std::log(p / (1 - p));
}
double share(double log_odds) {
  return 1 / (1 + std::exp(-log_odds));
}

// E[max(0, f(slope))] for slope ~ N(mean, sd), by equal slices of the normal.
template <class F>
double expected_gain(double mean, double sd, F gain) {
  constexpr int kSlices = 200;
  double sum = 0;
  for (int i = 0; i < kSlices; ++i) {
    sum += std::max(0.0, gain(mean + sd * normal_quantile((i + 0.5) / kSlices)));
  }
  return sum / kSlices;
}

struct Overall {
  Tally all{};
  std::map<std::string, Tally> pairings{};
  std::map<Cause, int> causes{};

  double rate() const {  // never quite 0 or 1, so that its odds exist
    return (all.yes + 0.5) / (all.tried + 1.0);
  }
  std::string usual_pairing() const {
    return std::max_element(pairings.begin(), pairings.end(),
                            [](auto& a, auto& b) { return a.second.tried < b.second.tried; })
        ->first;
  }
};

Overall overall_of(std::span<const BatchFate> batches) {
  Overall overall;
  for (const BatchFate& batch : batches) {
    if (!batch.scored || batch.judged() == 0) continue;
    for (Tally* tally : {&overall.all, &overall.pairings[batch.pairing]}) {
      tally->yes += batch.taken;
      tally->tried += batch.judged();
    }
    for (const LossNote& loss : batch.losses) overall.causes[loss.cause] += loss.count;
  }
  return overall;
}

struct Change {
  const char* what;
  double less;  // how much of the usual amount is taken away
  const char* now;
  const char* then;
};

std::optional<Change> change_of(Factor factor) {
  switch (factor) {
    case Factor::mismatch:
      return Change{"sort stems closer: half the present mismatch", 0.5, "usual", "closer"};
    case Factor::outside:
      return Change{"keep the air inside its band all of the first three days", 1, "usual",
                    "watched"};
    case Factor::darkness:
      return Change{"no dark days", 1, "dark", "dim"};
    case Factor::method:
    case Factor::grafter:
      break;
  }
  return std::nullopt;
}

std::string odds_words(const FactorEffect& effect) {
  return fmt::format("{}: odds of a take times {:.2f} ({:.2f} to {:.2f})", effect.of,
                     effect.odds_ratio, effect.low, effect.high);
}

Try from_number(const FactorEffect& effect, const Change& change, const Overall& overall) {
  const double p = overall.rate();
  const double amount = -change.less * effect.usual;
  Try one{change.what, odds_words(effect), "own records"};
  one.gain_per_100 = 100 * expected_gain(effect.slope, effect.slope_error, [&](double slope) {
                       return share(logit(p) + slope * amount) - p;
                     });
  one.rate_now = p;
  one.rate_tried = share(logit(p) + effect.slope * amount);
  one.ways = {change.now, change.then};
  return one;
}

Try from_level(const FactorEffect& effect, const Overall& overall) {
  const auto at = effect.of.find(" rather than ");
  std::string level = effect.of.substr(0, at), usual = effect.of.substr(at + 13);
  const double p = overall.rate();
  const bool better = effect.slope > 0;
  const double reach = better ? 1 - effect.usual : effect.usual;  // grafts that would change
  const double sign = better ? 1 : -1;
  Try one{(better ? level : usual) + " for all", odds_words(effect), "own records"};
  if (effect.factor == Factor::grafter) {
    one.what =
        fmt::format("let {} and {} cut side by side, and do as the better one does", level, usual);
  }
  one.gain_per_100 =
      100 * reach * expected_gain(effect.slope, effect.slope_error, [&](double slope) {
        return share(logit(p) + sign * slope) - p;
      });
  one.rate_now = p;
  one.rate_tried = share(logit(p) + std::abs(effect.slope));
  one.ways = better ? std::vector{usual, level} : std::vector{level, usual};
  return one;
}

// The other rootstock under the same scion, where it may do better than the one used more.
void add_rootstocks(std::vector<Try>& list, const Overall& overall) {
  std::vector<Tally> tallies;
  for (const auto& [name, tally] : overall.pairings) tallies.push_back(tally);
  const TakeModel model(tallies);
  for (const auto& [name, tally] : overall.pairings) {
    for (const auto& [other, tried] : overall.pairings) {
      const auto scion = name.substr(0, name.find('/') + 1);
      if (name == other || !other.starts_with(scion)) continue;
      const TakeBelief of_one = model.belief(tally), of_other = model.belief(tried);
      const double ahead = of_other.mean() - of_one.mean();
      if (ahead <= 0) continue;
      Try one{other + " in place of " + name,
              fmt::format("{} of {} against {} of {} took", tried.yes, tried.tried, tally.yes,
                          tally.tried),
              "own records"};
      one.gain_per_100 = 100.0 * tally.tried / overall.all.tried *
                         expected_gain(ahead, std::hypot(of_one.sd(), of_other.sd()),
                                       [](double difference) { return difference; });
      one.rate_now = of_one.mean();
      one.rate_tried = of_other.mean();
      one.pairing = name;
      one.other_pairing = other;
      list.push_back(std::move(one));
    }
  }
}

const char* remedy(Cause cause) {
  switch (cause) {
    case Cause::wilted:
      return "hold the closed stage at 97-98 % humidity and open more slowly";
    case Cause::rotted:
      return "water from below only, keep the cut dry, clean the blade between plants";
    case Cause::slipped:
      return "sort stems by clip size before cutting, and let no tray be moved for a week";
    case Cause::damped_off:
      return "fresh, well drained mix and less water before grafting";
    case Cause::pest:
      return "look under the leaves daily from sowing on, with sticky cards over the bench";
    case Cause::accident:
      return "one place for each tray from grafting to opening";
    case Cause::unknown:
      break;
  }
  return nullptr;
}

void add_causes(std::vector<Try>& list, const Overall& overall) {
  for (const auto& [cause, count] : overall.causes) {
    const char* what = remedy(cause);
    if (what == nullptr) continue;
    const double p = overall.rate();
    Try one{what,
            fmt::format("{} of {} losses were noted as {}; taken to be halved by it", count,
                        overall.all.tried - overall.all.yes, to_text(cause)),
            "assumed"};
    one.gain_per_100 = 100 * kHalved * count / overall.all.tried;
    one.rate_now = p;
    one.rate_tried = p + one.gain_per_100 / 100;
    one.ways = {"usual", "changed"};
    list.push_back(std::move(one));
  }
}

// Bausher 2013 (HortScience 48(1):34): survival 81 % with cuts at 45 degrees, 92 % at 70. Of the
// grafts that failed that is 11 of 19 saved; a third of the growers are taken to cut flat.
void add_published(std::vector<Try>& list, const Overall& overall) {
  constexpr double kSaved = 11.0 / 19, kCutFlat = 1.0 / 3;
  const double p = overall.rate();
  Try one{"cut at 70 degrees from the square cut, if you cut flatter",
          "92 against 81 % took at 70 and 45 degrees (Bausher 2013)", "published"};
  one.gain_per_100 = 100 * kCutFlat * kSaved * (1 - p);
  one.rate_now = p;
  one.rate_tried = p + kSaved * (1 - p);
  one.ways = {"45-degrees", "70-degrees"};
  list.push_back(std::move(one));
}

}  // namespace

std::vector<Try> things_to_try(std::span<const BatchFate> batches, const WhatSpoils& found,
                               std::size_t most) {
  const Overall overall = overall_of(batches);
  std::vector<Try> list;
  if (overall.all.tried == 0) return list;
  for (const FactorEffect& effect : found.effects) {
    const auto change = change_of(effect.factor);
    list.push_back(change ? from_number(effect, *change, overall) : from_level(effect, overall));
  }
  add_rootstocks(list, overall);
  add_causes(list, overall);
  add_published(list, overall);
  std::erase_if(list, [](const Try& t) { return t.gain_per_100 < kLeast; });
  std::stable_sort(list.begin(), list.end(),
                   [](const Try& a, const Try& b) { return a.gain_per_100 > b.gain_per_100; });
  if (list.size() > most) list.resize(most);
  for (Try& one : list) {
    if (one.pairing.empty()) one.pairing = overall.usual_pairing();
    one.rate_tried = std::min(one.rate_tried, kHighest);
    one.grafts_each = trials_for_power(one.rate_now, one.rate_tried, kPower);
  }
  return list;
}

}  // namespace takehold::client
