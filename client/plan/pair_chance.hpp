// From pairs to finished plants: what a spread of pairs promises when at most G are grafted.
#pragma once

#include <algorithm>
#include <optional>

#include "client/plan/pair_seasons.hpp"
#include "client/plan/season_plan.hpp"
#include "client/takes/take_model.hpp"

namespace takehold::client {

/// A probability from simulated seasons. Of a season with m pairs it is exactly the chance that
/// enough of min(m, G) grafts take; only the seasons are sampled.
struct SampledChance {
  double probability = 0;
  double standard_error = 0;
};

/// `tail` is take_tail of the pairing's want; G above its end counts as its end. Grafts `made`
/// before count: those that took for sure, those in healing as likely as the new ones.
class PairChance {
 public:
  PairChance(const TakeBelief& take, int want, int most_grafts, GraftsMade made = {});

  /// New grafts that are needed at the least.
  int want() const { return std::max(0, want_ - made_.pending); }
  int most_grafts() const { return static_cast<int>(tail_.size()) - 1; }
  double tail(int grafts) const;

  double probability(const PairSpread& spread, int most_grafts) const;
  SampledChance sampled(const PairSpread& spread, int most_grafts, int seasons) const;
  /// The smallest G that reaches `confidence`; nothing if none does.
  std::optional<int> fewest_grafts(const PairSpread& spread, double confidence) const;
  /// Expected finished plants, no more than `want` of them counted.
  double useful(const PairSpread& spread, int most_grafts) const;
  CountOutlook finished(const PairSpread& spread, int most_grafts) const;

 private:
  std::vector<double> tail_of(int want) const;

  const TakeBelief* take_;
  GraftsMade made_;
  int want_;  // beyond those that took
  int most_grafts_;
  std::vector<double> tail_;
};

}  // namespace takehold::client
