// What a pairing's simulated seasons come to: finished plants in time.
#pragma once

#include <vector>

#include "client/forecast/cohort_seasons.hpp"
#include "client/plan/pair_chance.hpp"

namespace takehold::client {

/// By day from today on: is there time to graft?
std::vector<bool> work_days(const ForecastRequest& request);

class SeasonOutcome {
 public:
  /// Every season is grafted on its best day in time.
  SeasonOutcome(const ForecastRequest& request, const ForecastPairing& pairing,
                const PairTable& table);
  /// With so many pairs made in each season.
  SeasonOutcome(const ForecastPairing& pairing, std::vector<std::uint16_t> pairs);

  double probability() const;  ///< of all that are wanted
  double probability_of(int want) const;
  double useful() const;  ///< finished plants, at most those wanted
  CountOutlook finished() const;
  /// useful() season by season.
  std::vector<double> useful_by_season() const;

 private:
  const ForecastPairing& pairing_;
  std::vector<std::uint16_t> pairs_;
  PairSpread spread_{};
};

}  // namespace takehold::client
