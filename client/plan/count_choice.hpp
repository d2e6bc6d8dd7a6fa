// The counts that a pairing's plan proposes.
#pragma once

#include "client/plan/count_search.hpp"

namespace takehold::client {

/// Chooses the cheapest counts in all seasons: few seasons tell where to look, with the target
/// corrected by what their luck is worth there, and a window of counts around that is matched at
/// once and searched; again around the cheapest where that lies at the window's edge.
class CountChoice {
 public:
  /// `few` and `all` are of one pairing, and draw alike. `limits` are the most seeds of either
  /// side.
  CountChoice(PairSeasons& few, PairSeasons& all, const PairChance& chance, const CountCosts& costs,
              SeedCounts limits)
      : few_(few), all_(all), chance_(chance), costs_(costs), limits_(limits) {}

  /// Nothing when no counts within the limits reach `confidence`. `near`: what was found for nearly
  /// the same question, which few seasons then need not be asked.
  std::optional<PairCounts> cheapest(double confidence, std::optional<SeedCounts> near);
  /// Where nothing reaches the confidence: the cheapest that few seasons bring within `below` of
  /// the best that any seed reaches.
  PairCounts nearly_best(double below);

 private:
  std::optional<SeedCounts> where_few_say(double confidence);
  void look_around(SeedCounts middle);
  int to_edge(SeedCounts counts) const;

  PairSeasons& few_;
  PairSeasons& all_;
  const PairChance& chance_;
  const CountCosts& costs_;
  SeedCounts limits_;
  CountWindow window_{};  // that `all` has matched
};

}  // namespace takehold::client
