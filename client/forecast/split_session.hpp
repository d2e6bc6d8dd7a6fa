// Grafting in two sessions: those that match on a first day, the others later.
#pragma once

#include <cstdint>
#include <vector>

#include "client/forecast/cohort_seasons.hpp"

namespace takehold::client {

struct SplitPairs {
  std::vector<std::uint16_t> all{};  ///< by season, both sessions
  double first = 0;                  ///< of them on the first day, expected
};

/// On `first` every pair that matches is made, up to the pairing's grafts; what is left of the
/// stems is matched on the best later day in time.
SplitPairs split_pairs(const ForecastRequest& request, const ForecastPairing& pairing,
                       const std::vector<TrayGrowth>& grown, Day first);

}  // namespace takehold::client
