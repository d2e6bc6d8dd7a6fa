// The cheapest seed and grafts that reach a confidence.
#pragma once

#include <optional>

#include "client/plan/pair_chance.hpp"

namespace takehold::client {

/// What one of each costs, in the grower's money; seed is priced by its part.
struct WorkPrices {
  double cell = 0;
  double graft = 0;
  int seeds_per_cell = 1;
};

/// Seeds to sow and the most grafts to make.
struct PairCounts {
  SeedCounts seeds{};
  int grafts = 0;
  friend bool operator==(const PairCounts&, const PairCounts&) = default;
};

/// Cost and limits of a pairing's counts.
class CountCosts {
 public:
  CountCosts(const SidePlan& rootstock, const SidePlan& scion, const WorkPrices& prices)
      : rootstock_(&rootstock), scion_(&scion), prices_(prices) {}

  double of(SeedCounts seeds) const;
  double of(const PairCounts& counts) const;
  double graft() const { return prices_.graft; }
  const SidePlan& rootstock() const { return *rootstock_; }
  const SidePlan& scion() const { return *scion_; }

 private:
  const SidePlan* rootstock_;
  const SidePlan* scion_;
  WorkPrices prices_;
};

/// Searches seeds of both sides and grafts together, all free: for a rising and a falling number of
/// rootstock seeds the fewest scion seeds that can do, and more of them as long as fewer grafts pay
/// for it. A direction ends after two rows without a cheaper one. No counts outside `window` are
/// tried.
class CountSearch {
 public:
  CountSearch(PairSeasons& seasons, const PairChance& chance, const CountCosts& costs,
              const CountWindow& window)
      : seasons_(seasons), chance_(chance), costs_(costs), window_(window) {}

  /// Nothing when nothing in the window reaches `target`. `near`: where to begin, if known.
  std::optional<PairCounts> cheapest(double target, std::optional<SeedCounts> near = std::nullopt);

 private:
  struct Best {
    PairCounts counts;
    double cost;
  };
  std::optional<SeedCounts> begin(double target);
  bool has_row(int rootstock) const {
    return rootstock >= window_.least.rootstock && rootstock <= window_.most.rootstock;
  }
  bool reaches(SeedCounts seeds, double target);
  int most_worth_trying(int rootstock) const;
  std::optional<int> fewest_scions(int rootstock, int near, double target);
  bool try_row(int rootstock, int& scions, double target);
  void walk(SeedCounts from, int direction, double target);
  void walk_both_ways(SeedCounts from, double target);

  PairSeasons& seasons_;
  const PairChance& chance_;
  const CountCosts& costs_;
  CountWindow window_;
  int fewest_grafts_ = 0;
  std::optional<Best> best_{};
};

}  // namespace takehold::client
