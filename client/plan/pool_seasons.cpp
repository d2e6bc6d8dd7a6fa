#include "client/plan/pool_seasons.hpp"

#include "client/plan/stem_filter.hpp"

namespace takehold::client {

PoolSeasons::PoolSeasons(SidePlan rootstock, int most_rootstocks, std::vector<PoolShare> shares,
                         std::vector<int> shifts, const MatchCounter& counter, DrawStore& store)
    : rootstock_(std::move(rootstock)),
      shares_(std::move(shares)),
      days_(shifts.size()),
      store_(store),
      matching_(counter),
      above_(shares_.size()),
      members_(shares_.size()) {
  stems_.push_back(store.stems(rootstock_, most_rootstocks, shifts, {}));
  for (const PoolShare& share : shares_) {
    stems_.push_back(store.stems(share.scion, share.seeds, shifts, {}));
    counts_.push_back(share.scion.spread(share.seeds));
  }
}

void PoolSeasons::take_day(int season, std::size_t day, const PartCounts& rootstocks) {
  keep_stems(stems_.front().on(season, day), rootstocks, below_);
  for (std::size_t i = 0; i < shares_.size(); ++i) {
    keep_stems(stems_[i + 1].on(season, day), counts_[i], above_[i]);
    members_[i] = {above_[i], shares_[i].grafts, shares_[i].weight};
  }
}

std::vector<PairSpread> PoolSeasons::spreads(int rootstocks) {
  const PartCounts counts = rootstock_.spread(rootstocks);
  std::vector<PairSpread> spreads(shares_.size());
  std::vector<int> best(shares_.size());
  for (int season = 0; season < store_.seasons(); ++season) {
    double most = -1;
    for (std::size_t day = 0; day < days_; ++day) {
      take_day(season, day, counts);
      const auto& pairs = matching_.pairs(below_, members_, static_cast<std::size_t>(season));
      double sum = 0;
      for (std::size_t i = 0; i < pairs.size(); ++i) sum += shares_[i].weight * pairs[i];
      if (sum <= most) continue;
      most = sum;
      best = pairs;
    }
    for (std::size_t i = 0; i < best.size(); ++i) {
      const auto pairs = static_cast<std::size_t>(best[i]);
      if (pairs >= spreads[i].size()) spreads[i].resize(pairs + 1);
      spreads[i][pairs] += 1.0 / store_.seasons();
    }
  }
  return spreads;
}

}  // namespace takehold::client
