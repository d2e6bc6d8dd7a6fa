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
  PoolSeasons(SidePlan rootstock, int most_rootstocks, std::vector<PoolShare> shares,
              std::vector<int> shifts, const MatchCounter& counter, DrawStore& store);

  /// Pairs of each share, as spreads over the seasons, with so many rootstock seeds to sow (at most
  /// the most given).
  std::vector<PairSpread> spreads(int rootstocks);

 private:
  void take_day(int season, std::size_t day, const PartCounts& rootstocks);

  SidePlan rootstock_;
  std::vector<PoolShare> shares_;
  std::size_t days_;
  DrawStore& store_;
  PoolMatching matching_;
  std::vector<SideStems> stems_;  // the rootstock's, then each share's
  std::vector<PartCounts> counts_;
  std::vector<std::uint16_t> below_;
  std::vector<std::vector<std::uint16_t>> above_;
  std::vector<PoolMember> members_;
};

}  // namespace takehold::client
