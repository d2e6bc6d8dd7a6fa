#include "client/plan/pool_seasons.hpp"

#include <algorithm>
#include <cstdlib>

#include "client/plan/stem_filter.hpp"

namespace takehold::client {

PoolSeasons::PoolSeasons(SidePlan rootstock, int most_rootstocks, std::vector<PoolShare> shares,
                         std::vector<int> shifts, const MatchCounter& counter,
                         const DrawStore& store)
    : rootstock_(std::move(rootstock)),
      shares_(std::move(shares)),
      shifts_(std::move(shifts)),
      store_(store),
      matching_(counter) {
  // The planned day first: it mostly serves all, and the others need not be looked at then.
  std::stable_sort(shifts_.begin(), shifts_.end(),
                   [](int a, int b) { return std::abs(a) < std::abs(b); });
  below_all_.push_back(stems_of(rootstock_, most_rootstocks));
  for (const PoolShare& share : shares_) {
    above_all_.push_back(stems_of(share.scion, share.seeds));
    capacity_.push_back(share.seeds);
  }
  set_members();
}

SideStems PoolSeasons::stems_of(const SidePlan& side, int seeds) const {
  return store_.alike().stems(side, seeds, shifts_, {});
}

void PoolSeasons::set(const std::vector<PoolShare>& shares) {
  shares_ = shares;
  for (std::size_t i = 0; i < shares_.size(); ++i) {
    if (shares_[i].seeds <= capacity_[i]) continue;
    capacity_[i] = shares_[i].seeds + shares_[i].seeds / 8;
    above_all_[i] = stems_of(shares_[i].scion, capacity_[i]);
  }
  set_members();
}

void PoolSeasons::set_members() {
  counts_.clear();
  members_.clear();
  in_full_.clear();
  above_.resize(shares_.size());
  greatest_weight_ = 0;
  for (const PoolShare& share : shares_) {
    counts_.push_back(share.scion.spread(share.seeds));
    members_.push_back({share.grafts, share.weight});
    in_full_.push_back(share.grafts);
    greatest_weight_ = std::max(greatest_weight_, share.weight);
  }
}

// Without branches to mispredict: whose stem is next is anybody's guess.
void PoolSeasons::merge_in(std::uint16_t member) {
  const auto& above = above_[member];
  merged_.resize(scions_.size() + above.size());
  std::size_t there = 0, added = 0, into = 0;
  while (there < scions_.size() && added < above.size()) {
    const bool stays = scions_[there].um <= above[added];
    merged_[into++] = stays ? scions_[there] : PoolScion{above[added], member};
    there += stays ? 1 : 0;
    added += stays ? 0 : 1;
  }
  for (; there < scions_.size(); ++there) merged_[into++] = scions_[there];
  for (; added < above.size(); ++added) merged_[into++] = {above[added], member};
  scions_.swap(merged_);
}

// The stems of a day; no sum of weights can be greater than what is returned.
double PoolSeasons::take_stems(int season, std::size_t day, const PartCounts& rootstocks) {
  keep_stems(below_all_.front().on(season, day), rootstocks, below_);
  std::size_t pairs = 0;
  for (std::size_t i = 0; i < shares_.size(); ++i) {
    keep_stems(above_all_[i].on(season, day), counts_[i], above_[i]);
    pairs += std::min(above_[i].size(), static_cast<std::size_t>(members_[i].most));
  }
  return greatest_weight_ * static_cast<double>(std::min(pairs, below_.size()));
}

void PoolSeasons::match_stems_taken() {
  scions_.clear();
  for (std::size_t i = 0; i < shares_.size(); ++i) merge_in(static_cast<std::uint16_t>(i));
  matching_.take(below_, scions_, members_);
}

double PoolSeasons::worth(const std::vector<int>& pairs) const {
  double sum = 0;
  for (std::size_t i = 0; i < pairs.size(); ++i) sum += shares_[i].weight * pairs[i];
  return sum;
}

// Of equal days the one nearest to the planned day.
const std::vector<int>& PoolSeasons::best_of(int season, const PartCounts& rootstocks) {
  double most = 0;
  best_.assign(shares_.size(), 0);
  for (std::size_t day = 0; day < shifts_.size(); ++day) {
    if (take_stems(season, day, rootstocks) <= most) continue;
    match_stems_taken();
    if (matching_.serves_all()) return in_full_;
    if (matching_.sum_at_most() <= most) continue;
    const auto& pairs = matching_.pairs(static_cast<std::size_t>(season));
    if (const double sum = worth(pairs); sum > most) {
      most = sum;
      best_ = pairs;
    }
  }
  return best_;
}

std::vector<PairSpread> PoolSeasons::spreads(int rootstocks) {
  const PartCounts counts = rootstock_.spread(rootstocks);
  std::vector<PairSpread> spreads(shares_.size());
  for (int season = 0; season < store_.seasons(); ++season) {
    const auto& best = best_of(season, counts);
    for (std::size_t i = 0; i < best.size(); ++i) {
      const auto pairs = static_cast<std::size_t>(best[i]);
      if (pairs >= spreads[i].size()) spreads[i].resize(pairs + 1);
      spreads[i][pairs] += 1.0 / store_.seasons();
    }
  }
  return spreads;
}

}  // namespace takehold::client
