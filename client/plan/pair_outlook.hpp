// How many finished grafts to expect from a number of seeds, in closed form.
#pragma once

#include <map>
#include <vector>

#include "client/match/tolerance.hpp"
#include "client/plan/ages.hpp"
#include "client/plan/season_plan.hpp"

namespace takehold::client {

/// One side of a pairing on the day of the graft.
struct SideOutlook {
  Chance viability;        ///< share of seeds that come up
  double graftable = 1;    ///< share of the standing seedlings that can be grafted
  double lot_sd = 0;       ///< sd of ln(diameter) from lot to lot
  double seedling_sd = 0;  ///< sd of ln(diameter) within the lot
};

/// From the growth model at an age: what is not known of a lot's emergence and vigour, and the
/// scatter of its seedlings, carried over to their diameters.
SideOutlook side_outlook(const Course& course, Species species, int days, const Seedling& middle,
                         Chance viability);

/// Rootstock and scion seeds to sow, and the most grafts to make.
struct PairCounts {
  int rootstock_seeds = 0;
  int scion_seeds = 0;
  int grafts = 0;
};

/// A pairing's chances. Between lots the two diameters differ by a normal ln ratio; at a given
/// ratio the share of stems that find a partner is that of two normal populations matched as well
/// as can be (Strassen's theorem); each seed then stands, is graftable and is matched
/// independently, and the grafts share one unknown take rate. Not a simulation: the luck of few
/// stems is left out.
class PairOutlook {
 public:
  /// `middle_ratio` is rootstock over scion diameter of the middle seedlings; `tolerance_pct` of
  /// the mean, infinity for any mismatch.
  PairOutlook(SideOutlook rootstock, SideOutlook scion, double middle_ratio, double tolerance_pct,
              Chance take);

  /// P(k finished), k = 0..grafts.
  std::vector<double> finished(const PairCounts& counts) const;
  double probability(const PairCounts& counts, int want) const;

 private:
  struct Node {
    double weight;
    double matched;  // share of graftable stems that find a partner
  };
  using Tails = std::vector<std::vector<double>>;  // by node, then P(at least k stems)

  std::vector<double> at_least(const PairCounts& counts) const;
  const Tails& tails(bool rootstock, int seeds) const;
  double enough_taken(int grafts, int want) const;  // P(at least `want` of them take)

  SideOutlook rootstock_;
  SideOutlook scion_;
  Chance take_;
  std::vector<Node> nodes_;
  mutable std::map<std::pair<bool, int>, Tails> tails_;  // computed once a number of seeds
  mutable std::map<std::pair<int, int>, double> enough_taken_;
};

/// A Beta distribution of the same mean and sd: what the closed form takes for the belief.
Chance matched_chance(const TakeBelief& belief);

}  // namespace takehold::client
