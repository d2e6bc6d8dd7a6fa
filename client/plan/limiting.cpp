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
  const auto seasons_with = [&](Perfect perfect, const MatchCounter& counter) {
    return PairSeasons(draft.rootstock, draft.scion, draft.shifts, counter, store, perfect);
  };
  const auto with_take = [&](const PairSpread& spread, const TakeBelief& belief) {
    return chance_of(basis, belief, *draft.pairing).probability(spread, counts.grafts);
  };
  PairSeasons planned = seasons_with({}, basis.counter);
  const PairSpread as_planned = planned.spread(counts.seeds);
  planned.count_with(basis.any_mismatch);
  PairSeasons all_up = seasons_with({.emergence = true}, basis.counter);
  PairSeasons all_graftable = seasons_with({.spread = true}, basis.any_size);
  std::optional<LimitedBy> limit;
  double best = with_take(as_planned, take) + kNotable;
  const std::pair<LimitedBy, double> stages[] = {
      {LimitedBy::emergence, with_take(all_up.spread(counts.seeds), take)},
      {LimitedBy::spread, with_take(all_graftable.spread(counts.seeds), take)},
      {LimitedBy::mismatch, with_take(planned.spread(counts.seeds), take)},
      {LimitedBy::take, with_take(as_planned, sure)}};
  for (const auto& [stage, probability] : stages) {
    if (probability <= best) continue;
    best = probability;
    limit = stage;
  }
  return limit;
}

}  // namespace takehold::client
