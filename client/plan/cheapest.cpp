#include "client/plan/cheapest.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "client/plan/counts.hpp"

namespace takehold::client {
namespace {

constexpr int kPatience = 4;         // numbers of grafts tried without getting cheaper
constexpr double kBelowBest = 0.01;  // given away when the confidence is out of reach

int most_seeds(int want) {
  return std::min(1000, 100 + 20 * want);
}

// The smallest n in [low, high] for which `enough(n)`, which stays true once it is; nothing if
// not even at high.
template <class Enough>
std::optional<int> fewest(int low, int high, const Enough& enough) {
  // Doubling first: large counts are dear to evaluate and seldom needed.
  int fails = low - 1;
  int holds = low;
  while (!enough(holds)) {
    if (holds >= high) return std::nullopt;
    fails = holds;
    holds = std::min(high, 2 * holds + 1);
  }
  while (holds - fails > 1) {
    const int middle = fails + (holds - fails) / 2;
    (enough(middle) ? holds : fails) = middle;
  }
  return holds;
}

class Search {
 public:
  Search(const PairOutlook& outlook, int want, double target, const UnitPrices& prices)
      : outlook_(outlook), want_(want), target_(target), prices_(prices) {}

  // Tries all seed counts with this many grafts; true if the best got better.
  bool try_grafts(int grafts) {
    const int most = most_seeds(want_);
    const auto enough_rootstocks = [&](int seeds) { return reaches({seeds, most, grafts}); };
    const auto first = fewest(want_, most, enough_rootstocks);
    bool better = false;
    for (int seeds = first.value_or(most + 1); seeds <= most; seeds += 1 + seeds / 24) {
      if (best_ && prices_.cost({seeds, want_, grafts}) >= least_) break;
      const auto scions = fewest(want_, most, [&](int n) { return reaches({seeds, n, grafts}); });
      if (!scions) continue;
      better = consider({seeds, *scions, grafts}) || better;
    }
    return better;
  }
  const std::optional<PairCounts>& best() const { return best_; }

 private:
  bool reaches(const PairCounts& counts) const {
    return outlook_.probability(counts, want_) >= target_ - kReached;
  }
  bool consider(const PairCounts& counts) {
    const double cost = prices_.cost(counts);
    if (best_ && cost >= least_) return false;
    best_ = counts;
    least_ = cost;
    return true;
  }

  const PairOutlook& outlook_;
  int want_;
  double target_;
  UnitPrices prices_;
  std::optional<PairCounts> best_;
  double least_ = 0;
};

}  // namespace

double UnitPrices::cost(const PairCounts& counts) const {
  const int cells = cells_for(counts.rootstock_seeds, seeds_per_cell) +
                    cells_for(counts.scion_seeds, seeds_per_cell);
  return rootstock_seed * counts.rootstock_seeds + scion_seed * counts.scion_seeds + cell * cells +
         graft * counts.grafts;
}

CheapestCounts cheapest_counts(const PairOutlook& outlook, Chance take, int want, double confidence,
                               const UnitPrices& prices) {
  const int most = most_seeds(want);
  const int most_grafts = most / 2;
  const double best_possible = outlook.probability({most, most, most_grafts}, want);
  const bool reached = best_possible >= confidence;
  const double target = reached ? confidence : std::max(0.0, best_possible - kBelowBest);
  Search search(outlook, want, target, prices);
  int grafts = want;
  if (target > 0) grafts = smallest_beta_binomial(want, take, target).value_or(most_grafts);
  for (int without = 0; without < kPatience && grafts <= most_grafts; ++grafts) {
    const bool better = search.try_grafts(grafts);
    if (search.best()) without = better ? 0 : without + 1;
  }
  CheapestCounts found;
  found.counts = search.best().value_or(PairCounts{most, most, most_grafts});
  found.probability = outlook.probability(found.counts, want);
  found.reached = reached;
  return found;
}

}  // namespace takehold::client
