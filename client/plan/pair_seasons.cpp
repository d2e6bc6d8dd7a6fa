#include "client/plan/pair_seasons.hpp"

#include <algorithm>
#include <cstdlib>

#include "client/plan/stem_filter.hpp"

namespace takehold::client {
namespace {

constexpr int kNear = 6;  // seeds; counts further away leave hardly a season settled
constexpr std::size_t kNeighbours = 4;

struct Neighbour {
  int more, fewer;  // seeds than it
  const std::vector<std::uint16_t>* pairs;
};

}  // namespace

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
  side.capacity = std::max(seeds, side.capacity + side.capacity / 6);
  side.stems.clear();
  side.stems.push_back(store_->stems(side.plan, side.capacity, shifts_, perfect_));
}

void PairSeasons::expect(SeedCounts counts) {
  grow(rootstock_, counts.rootstock);
  grow(scion_, counts.scion);
}

// A seed more or less on either side makes at most one pair more or less on any day, so also on the
// best one: what was counted before with nearly as much seed leaves few seasons to count.
PairSeasons::Bounds PairSeasons::bounds(SeedCounts counts) const {
  std::vector<Neighbour> near;
  for (const auto& [other, pairs] : pairs_) {
    const int more =
        std::max(0, counts.rootstock - other.rootstock) + std::max(0, counts.scion - other.scion);
    const int fewer =
        std::max(0, other.rootstock - counts.rootstock) + std::max(0, other.scion - counts.scion);
    if (more + fewer <= kNear) near.push_back({more, fewer, &pairs});
  }
  std::stable_sort(near.begin(), near.end(), [](const Neighbour& a, const Neighbour& b) {
    return a.more + a.fewer < b.more + b.fewer;
  });
  near.resize(std::min(near.size(), kNeighbours));
  const auto all = static_cast<std::size_t>(seasons());
  Bounds bounds{std::vector<std::uint16_t>(all, 0), std::vector<std::uint16_t>(all, most_)};
  for (const auto& [more, fewer, pairs] : near) {
    for (std::size_t i = 0; i < all; ++i) {
      const int known = (*pairs)[i], low = known - fewer, high = known + more;
      if (low > bounds.low[i]) bounds.low[i] = static_cast<std::uint16_t>(low);
      if (high < bounds.high[i]) bounds.high[i] = static_cast<std::uint16_t>(high);
    }
  }
  return bounds;
}

int PairSeasons::pairs_on(int season, std::size_t day, const PartCounts& rootstock,
                          const PartCounts& scion, int more_than) {
  const auto stems = rootstock_.stems.front().on(season, day);
  if (static_cast<int>(stems.size()) <= more_than) return 0;
  const auto scions = scion_.stems.front().on(season, day);
  if (static_cast<int>(scions.size()) <= more_than) return 0;
  keep_stems(stems, rootstock, below_);
  if (static_cast<int>(below_.size()) <= more_than) return 0;
  keep_stems(scions, scion, above_);
  if (static_cast<int>(above_.size()) <= more_than) return 0;
  return counter_->count(below_, above_);
}

std::uint16_t PairSeasons::best_of(int season, const PartCounts& rootstock, const PartCounts& scion,
                                   std::uint16_t low, std::uint16_t high) {
  if (low >= high) return high;
  std::uint8_t& first = best_day_[static_cast<std::size_t>(season)];
  const std::size_t begin = first;
  int best = low;
  for (std::size_t k = 0; k < shifts_.size() && best < high; ++k) {
    const std::size_t day = k == 0 ? begin : (k <= begin ? k - 1 : k);
    const int found = pairs_on(season, day, rootstock, scion, best);
    if (found <= best) continue;
    best = found;
    first = static_cast<std::uint8_t>(day);
  }
  return static_cast<std::uint16_t>(std::min<int>(best, high));
}

const std::vector<std::uint16_t>& PairSeasons::pairs(SeedCounts counts) {
  const auto found = pairs_.find(counts);
  if (found != pairs_.end()) return found->second;
  expect(counts);
  best_day_.resize(static_cast<std::size_t>(seasons()));
  const PartCounts rootstock = rootstock_.plan.spread(counts.rootstock);
  const PartCounts scion = scion_.plan.spread(counts.scion);
  const Bounds known = bounds(counts);
  std::vector<std::uint16_t> pairs;
  pairs.reserve(static_cast<std::size_t>(seasons()));
  for (int season = 0; season < seasons(); ++season) {
    const auto i = static_cast<std::size_t>(season);
    pairs.push_back(best_of(season, rootstock, scion, known.low[i], known.high[i]));
  }
  return pairs_.emplace(counts, std::move(pairs)).first->second;
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
