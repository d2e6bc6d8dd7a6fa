// The cheapest counts that reach a confidence.
#pragma once

#include "client/plan/pair_outlook.hpp"

namespace takehold::client {

/// What one of each costs, in the grower's money.
struct UnitPrices {
  double rootstock_seed = 0;
  double scion_seed = 0;
  double cell = 0;
  double graft = 0;
  int seeds_per_cell = 1;

  double cost(const PairCounts& counts) const;
};

struct CheapestCounts {
  PairCounts counts;
  double probability = 0;
  bool reached = true;  ///< false: no number of seeds up to the search's limit reaches it
};

/// Searches grafts, rootstock and scion seeds together: for each number of grafts from the smallest
/// that could do, and each of a ladder of rootstock seeds, the fewest scion seeds. When the
/// confidence is out of reach, counts that come within 0.01 of the best that is.
CheapestCounts cheapest_counts(const PairOutlook& outlook, Chance take, int want, double confidence,
                               const UnitPrices& prices);

}  // namespace takehold::client
