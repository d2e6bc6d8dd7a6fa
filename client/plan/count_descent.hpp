// From counts found in few seasons to counts that hold in all of them.
#pragma once

#include <optional>
#include <vector>

#include "client/plan/count_search.hpp"

namespace takehold::client {

/// Few, dear questions: judges the counts given, makes the cheapest that reaches the target cheaper
/// by a seed here for a seed there, as long as that helps. Where none reaches it, both sides grow
/// until one does, no further than `limits`.
class CountDescent {
 public:
  CountDescent(PairSeasons& seasons, const PairChance& chance, const CountCosts& costs,
               SeedCounts limits)
      : seasons_(seasons), chance_(chance), costs_(costs), limits_(limits) {}

  /// Nothing when not even the limits reach `target`. `starts` is not empty.
  std::optional<PairCounts> cheapest(const std::vector<SeedCounts>& starts, double target);

 private:
  bool improve(SeedCounts seeds, double target);
  bool step(double target);
  void grow(SeedCounts from, double target);

  PairSeasons& seasons_;
  const PairChance& chance_;
  const CountCosts& costs_;
  SeedCounts limits_;
  std::optional<PairCounts> best_{};
};

}  // namespace takehold::client
