#include "client/plan/pair_seasons.hpp"

#include <algorithm>
#include <cstdlib>

#include "client/plan/stem_filter.hpp"

namespace takehold::client {
PairSeasons::PairSeasons(SidePlan rootstock, SidePlan scion, std::vector<int> shifts,
                         const MatchCounter& counter, DrawStore& store, Perfect perfect)
    : rootstock_{std::move(rootstock)},
      scion_{std::move(scion)},
      shifts_(std::move(shifts)),
      counter_(&counter),
      store_(&store),
      perfect_(perfect) {
  // The planned day first: it is mostly the best, and the others need not be looked at closely.
  std::stable_sort(shifts_.begin(), shifts_.end(),
                   [](int a, int b) { return std::abs(a) < std::abs(b); });
}

void PairSeasons::grow(Side& side, int seeds) {
  if (seeds <= side.capacity) return;
  side.capacity = std::max(seeds, side.capacity + side.capacity / 2);
  side.stems.clear();
  side.stems.push_back(store_->stems(side.plan, side.capacity, shifts_, perfect_));
}

void PairSeasons::expect(SeedCounts counts) {
  grow(rootstock_, counts.rootstock);
  grow(scion_, counts.scion);
}

int PairSeasons::best_of(int season, const PartCounts& rootstock, const PartCounts& scion) {
  int best = 0;
  for (std::size_t day = 0; day < shifts_.size(); ++day) {
    const auto stems = rootstock_.stems.front().on(season, day);
    if (static_cast<int>(stems.size()) <= best) continue;
    keep_stems(stems, rootstock, below_);
    if (static_cast<int>(below_.size()) <= best) continue;
    keep_stems(scion_.stems.front().on(season, day), scion, above_);
    if (static_cast<int>(above_.size()) <= best) continue;
    best = std::max(best, counter_->count(below_, above_));
  }
  return best;
}

std::vector<std::uint16_t> PairSeasons::pairs(SeedCounts counts) {
  expect(counts);
  const PartCounts rootstock = rootstock_.plan.spread(counts.rootstock);
  const PartCounts scion = scion_.plan.spread(counts.scion);
  std::vector<std::uint16_t> pairs;
  pairs.reserve(static_cast<std::size_t>(seasons()));
  for (int season = 0; season < seasons(); ++season) {
    pairs.push_back(static_cast<std::uint16_t>(best_of(season, rootstock, scion)));
  }
  return pairs;
}

const PairSpread& PairSeasons::spread(SeedCounts counts) {
  const auto [place, is_new] = spreads_.try_emplace(counts);
  if (!is_new) return place->second;
  PairSpread& spread = place->second;
  for (const std::uint16_t pairs : pairs(counts)) {
    if (pairs >= spread.size()) spread.resize(pairs + std::size_t{1});
    spread[pairs] += 1.0 / seasons();
  }
  return spread;
}

}  // namespace takehold::client
