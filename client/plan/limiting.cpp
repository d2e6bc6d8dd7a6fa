#include "client/plan/limiting.hpp"

#include <algorithm>

namespace takehold::client {
namespace {

constexpr double kNotable = 0.001;  // a gain in probability below this limits nothing
constexpr int kSeasons = 1024;      // a comparison on the same draws needs no more

}  // namespace

std::optional<LimitedBy> limiting_stage(const PlanBasis& basis, const PairDraft& draft) {
  const auto& [listed, needed] = std::pair{draft.listed.seeds, draft.needed.seeds};
  if (listed.rootstock < needed.rootstock || listed.scion < needed.scion) return LimitedBy::seed;
  const PairCounts& counts = draft.is_pooled ? draft.alone : draft.listed;
  const TakeBelief take = take_of(basis, *draft.pairing);
  const TakeBelief sure(Chance{1e9, 1e-3});
  DrawStore store(kPlanSeed, std::min(kSeasons, basis.request.seasons));
  const auto widest = static_cast<std::uint16_t>(StemKey::kWidest);
  const MatchCounter any(Tolerance::unlimited(), widest);
  const MatchCounter all(Tolerance::percent_of_mean(basis.request.season.tolerance_pct), widest);
  const auto spread_with = [&](Perfect perfect, const MatchCounter& counter) {
    PairSeasons seasons(draft.rootstock, draft.scion, draft.shifts, counter, store, perfect);
    return seasons.spread(counts.seeds);
  };
  const auto with_take = [&](const PairSpread& spread, const TakeBelief& belief) {
    return chance_of(basis, belief, *draft.pairing).probability(spread, counts.grafts);
  };
  const PairSpread as_planned = spread_with({}, basis.counter);
  std::optional<LimitedBy> limit;
  double best = with_take(as_planned, take) + kNotable;
  const std::pair<LimitedBy, double> stages[] = {
      {LimitedBy::emergence, with_take(spread_with({.emergence = true}, basis.counter), take)},
      {LimitedBy::spread, with_take(spread_with({.spread = true}, all), take)},
      {LimitedBy::mismatch, with_take(spread_with({}, any), take)},
      {LimitedBy::take, with_take(as_planned, sure)}};
  for (const auto& [stage, probability] : stages) {
    if (probability <= best) continue;
    best = probability;
    limit = stage;
  }
  return limit;
}

}  // namespace takehold::client
