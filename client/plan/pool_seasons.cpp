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
  for (const PoolShare& share : shares_) {
    counts_.push_back(share.scion.spread(share.seeds));
    members_.push_back({share.grafts, share.weight});
    in_full_.push_back(share.grafts);
  }
}

// Without branches to mispredict: whose stem is next is anybody's guess.
void PoolSeasons::merge_in(std::uint16_t member) {
  merged_.resize(scions_.size() + above_.size());
  std::size_t there = 0, added = 0, into = 0;
  while (there < scions_.size() && added < above_.size()) {
    const bool stays = scions_[there].um <= above_[added];
    merged_[into++] = stays ? scions_[there] : PoolScion{above_[added], member};
    there += stays ? 1 : 0;
    added += stays ? 0 : 1;
  }
  for (; there < scions_.size(); ++there) merged_[into++] = scions_[there];
  for (; added < above_.size(); ++added) merged_[into++] = {above_[added], member};
  scions_.swap(merged_);
}

void PoolSeasons::take_day(int season, std::size_t day, const PartCounts& rootstocks) {
  keep_stems(below_all_.front().on(season, day), rootstocks, below_);
  scions_.clear();
  for (std::size_t i = 0; i < shares_.size(); ++i) {
    keep_stems(above_all_[i].on(season, day), counts_[i], above_);
    merge_in(static_cast<std::uint16_t>(i));
  }
  matching_.take(below_, scions_, members_);
}

void PoolSeasons::improve_on(int season, std::size_t day, const PartCounts& rootstocks,
                             double& most) {
  take_day(season, day, rootstocks);
  const auto& pairs = matching_.pairs(static_cast<std::size_t>(season));
  double sum = 0;
  for (std::size_t i = 0; i < pairs.size(); ++i) sum += shares_[i].weight * pairs[i];
  if (sum <= most) return;
  most = sum;
  best_ = pairs;
}

const std::vector<int>& PoolSeasons::best_of(int season, const PartCounts& rootstocks) {
  days_.clear();
  for (std::size_t day = 0; day < shifts_.size(); ++day) {
    take_day(season, day, rootstocks);
    if (matching_.serves_all()) return in_full_;
    days_.emplace_back(matching_.sum_at_most(), day);
  }
  std::stable_sort(days_.begin(), days_.end(),
                   [](const auto& a, const auto& b) { return a.first > b.first; });
  double most = 0;
  best_.assign(shares_.size(), 0);
  for (const auto& [at_most, day] : days_) {
    if (at_most > most) improve_on(season, day, rootstocks, most);
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
