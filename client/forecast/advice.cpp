#include "client/forecast/advice.hpp"

#include <algorithm>
#include <cmath>

#include "client/forecast/changes_to_try.hpp"
#include "client/forecast/season_outcome.hpp"
#include "client/forecast/split_session.hpp"

namespace takehold::client {
namespace {

constexpr int kTryingSeasons = 240;
constexpr double kWorthSaying = 0.05;  // plants
constexpr double kSure = 2;            // standard errors
constexpr double kNearlyAll = 0.9;  // of the greatest gain: more seed for the rest is not worth it
constexpr double kGoodEnough = 0.99;  // chance above which nothing is looked for

struct Gain {
  double mean = 0, error = 0;
};

Gain gain_of(const std::vector<double>& before, const std::vector<double>& after) {
  double sum = 0, squares = 0;
  for (std::size_t i = 0; i < before.size(); ++i) {
    sum += after[i] - before[i];
    squares += (after[i] - before[i]) * (after[i] - before[i]);
  }
  const auto n = static_cast<double>(before.size());
  const double mean = sum / n;
  return {mean, std::sqrt(std::max(0.0, squares / n - mean * mean) / n)};
}

struct Tried {
  Advice advice;
  double gain = 0;
};

/// The best of one kind; of top-ups the smallest that gains nearly as much.
const Tried* best_of(const std::vector<Tried>& tried, AdviceKind kind) {
  const Tried* best = nullptr;
  for (const Tried& one : tried) {
    if (one.advice.kind == kind && (!best || one.gain > best->gain)) best = &one;
  }
  if (!best || kind != AdviceKind::top_up) return best;
  for (const Tried& one : tried) {
    if (one.advice.kind != kind || one.gain < kNearlyAll * best->gain) continue;
    if (one.advice.seeds < best->advice.seeds) return &one;
  }
  return best;
}

/// The greatest number of plants that is as sure as the season asks.
std::optional<Advice> shrunk(const ForecastRequest& request, const ForecastPairing& pairing,
                             const SeasonOutcome& outcome) {
  if (outcome.probability() >= request.season.confidence) return std::nullopt;
  Advice advice;
  advice.kind = AdviceKind::shrink;
  advice.probability_before = outcome.probability();
  advice.useful_before = advice.useful_after = outcome.useful();
  for (int want = pairing.want - 1; want > 0; --want) {
    advice.probability_after = outcome.probability_of(want);
    advice.want = want;
    if (advice.probability_after >= request.season.confidence) return advice;
  }
  advice.want = 0;
  advice.probability_after = 1;
  return advice;
}

}  // namespace

Adviser::Seasons Adviser::drawn_anew(const ForecastRequest& request, int seasons,
                                     std::uint64_t seed) {
  ForecastRequest anew = request;
  anew.seasons = seasons;
  anew.seed = seed;
  DrawnTrays drawn(anew);
  return {std::move(anew), std::move(drawn)};
}

Adviser::Adviser(const ForecastRequest& request)
    : request_(request),
      trying_(drawn_anew(request, std::min(kTryingSeasons, request.seasons), request.seed + 1)),
      telling_(drawn_anew(request, request.seasons, request.seed + 2)) {}

Adviser::Result Adviser::run(const Seasons& seasons, const Cohort& cohort, std::size_t pairing,
                             const Advice* advice) {
  const ForecastRequest request =
      advice ? changed(seasons.request, *advice, cohort, pairing) : seasons.request;
  DrawnTrays drawn = seasons.drawn;
  for (std::size_t tray = seasons.request.trays.size(); tray < request.trays.size(); ++tray) {
    drawn.add(request, request.trays[tray]);
  }
  const auto grown = grown_trays(request, drawn);
  Result result;
  result.worth.assign(static_cast<std::size_t>(request.seasons), 0);
  const bool in_two = advice && advice->kind == AdviceKind::in_two;
  const Cohort members = in_two ? Cohort{pairing} : cohort;
  const auto tables = in_two ? std::vector<PairTable>() : pair_tables(request, members, grown);
  for (std::size_t i = 0; i < members.size(); ++i) {
    const ForecastPairing& member = request.pairings[members[i]];
    SplitPairs split;
    if (in_two) split = split_pairs(request, member, grown, advice->on);
    const SeasonOutcome outcome =
        in_two ? SeasonOutcome(member, split.all) : SeasonOutcome(request, member, tables[i]);
    result.first_pairs = split.first;
    const auto useful = outcome.useful_by_season();
    for (std::size_t s = 0; s < useful.size(); ++s) result.worth[s] += member.weight * useful[s];
    if (members[i] != pairing) continue;
    result.useful = outcome.useful();
    result.probability = outcome.probability();
  }
  return result;
}

std::vector<Advice> Adviser::advise(const Cohort& cohort, std::size_t pairing) const {
  std::vector<Advice> kept;
  const Result before = run(telling_, cohort, pairing, nullptr);
  if (before.probability >= kGoodEnough) return kept;
  const Result before_trying = run(trying_, cohort, pairing, nullptr);
  std::vector<Tried> tried;
  for (const Advice& change : changes_to_try(request_, request_.pairings[pairing])) {
    // Pairings that share stems are grafted in sessions of their own anyway.
    if (change.kind == AdviceKind::in_two && cohort.size() > 1) continue;
    const Result after = run(trying_, cohort, pairing, &change);
    tried.push_back({change, gain_of(before_trying.worth, after.worth).mean});
  }
  for (const AdviceKind kind : {AdviceKind::cooler, AdviceKind::top_up, AdviceKind::in_two}) {
    const Tried* best = best_of(tried, kind);
    if (!best || best->gain <= 0) continue;
    const Result after = run(telling_, cohort, pairing, &best->advice);
    const Gain gain = gain_of(before.worth, after.worth);
    if (gain.mean < kWorthSaying || gain.mean < kSure * gain.error) continue;
    Advice advice = best->advice;
    advice.useful_before = before.useful;
    advice.useful_after = after.useful;
    advice.probability_before = before.probability;
    advice.probability_after = after.probability;
    advice.gain_error = gain.error;
    advice.pairs = after.first_pairs;
    kept.push_back(advice);
  }
  std::stable_sort(kept.begin(), kept.end(), [](const Advice& a, const Advice& b) {
    return a.useful_after > b.useful_after;
  });
  const ForecastPairing& asked = request_.pairings[pairing];
  const auto grown = grown_trays(telling_.request, telling_.drawn);
  const auto tables = pair_tables(telling_.request, cohort, grown);
  const auto at =
      static_cast<std::size_t>(std::find(cohort.begin(), cohort.end(), pairing) - cohort.begin());
  if (auto fewer = shrunk(request_, asked, SeasonOutcome(telling_.request, asked, tables[at]))) {
    kept.push_back(*fewer);
  }
  return kept;
}

}  // namespace takehold::client
