// The simulated seasons of pairings that share one rootstock sowing.
#pragma once

#include <vector>

#include "client/plan/pair_seasons.hpp"
#include "client/plan/pool_matching.hpp"

namespace takehold::client {

/// One pairing of a pool: its scions and how many of them.
struct PoolShare {
  SidePlan scion{};
  int seeds = 0;   ///< scion seeds to sow
  int grafts = 0;  ///< the most made
  double weight = 1;
};

/// One draw of the rootstock lot; on each day of `shifts` its stems are matched over the whole pool
/// to the greatest sum of weights; the day best for the whole is taken.
class PoolSeasons {
 public:
  /// `most_rootstocks`: no question is about more. `store` says which seasons; its draws are not
  /// kept, for those of a whole pool are many.
  PoolSeasons(SidePlan rootstock, int most_rootstocks, std::vector<PoolShare> shares,
              std::vector<int> shifts, const MatchCounter& counter, const DrawStore& store);

  /// The same pairings with other scion seeds or grafts.
  void set(const std::vector<PoolShare>& shares);
  /// Pairs of each share, as spreads over the seasons, with so many rootstock seeds to sow (at most
  /// the most given).
  std::vector<PairSpread> spreads(int rootstocks);

 private:
  SideStems stems_of(const SidePlan& side, int seeds) const;
  void set_members();
  void merge_in(std::uint16_t member);
  double take_stems(int season, std::size_t day, const PartCounts& rootstocks);
  void match_stems_taken();
  double worth(const std::vector<int>& pairs) const;
  const std::vector<int>& best_of(int season, const PartCounts& rootstocks);

  SidePlan rootstock_;
  std::vector<PoolShare> shares_;
  std::vector<int> shifts_;
  const DrawStore& store_;
  PoolMatching matching_;
  std::vector<SideStems> below_all_;  // one
  std::vector<SideStems> above_all_;  // by share
  std::vector<int> capacity_;         // seeds that these hold
  std::vector<PartCounts> counts_;    // by share
  std::vector<PoolMember> members_;
  double greatest_weight_ = 0;
  std::vector<std::uint16_t> below_;               // a day's
  std::vector<std::vector<std::uint16_t>> above_;  // by share
  std::vector<PoolScion> scions_, merged_;         // of all shares together
  std::vector<int> in_full_, best_;
};

}  // namespace takehold::client
