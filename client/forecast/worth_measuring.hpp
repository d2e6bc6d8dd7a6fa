// Which seedlings are worth the calliper today: what their stems would tell of the graft day.
#pragma once

#include <vector>

#include "client/forecast/forecast_request.hpp"

namespace takehold::client {

/// Stems to measure of one tray, and what is known of its day before and after.
struct StemsToMeasure {
  std::size_t tray = 0;  ///< a place in ForecastRequest::trays
  int stems = 0;         ///< 0: the others tell more
  int standing = 0;
  double sd_before_days = 0;  ///< of the day on which its middle stem is 2.0 mm thick
  double sd_after_days = 0;
};

struct MeasuringWork {
  int most = 30;                   ///< stems in all
  double least_gain_days = 0.004;  ///< a stem that lowers the typical sd by less is not worth it
};

/// The value of information, to first order. Of every lot 512 draws of its posterior give the day t
/// on which each tray's middle stem reaches 2.0 mm, and ln D of the middle stem today; one measured
/// stem is an observation of the latter with the seedlings' scatter, their uneven emergence and the
/// calliper's error (0.05 mm) as its noise, 1 in 20 wrong. Stem after stem goes to the tray where
/// it lowers the sum over pairings of weight * wanted * (var t of the rootstocks + var t of the
/// scions) most; trays of one lot teach of each other. Nothing of a tray without standing plants,
/// or whose middle seedling is more likely not up. The same request, the same answer.
std::vector<StemsToMeasure> worth_measuring(const ForecastRequest& request,
                                            const MeasuringWork& work = {});

/// The day on which the tray's middle stem reaches 2.0 mm, from today on, as its lot's posterior
/// has it: mean and sd. Nothing while its course is too short.
struct ExpectedDay {
  double mean_days = 0;
  double sd_days = 0;
};
ExpectedDay day_at_clip(const ForecastRequest& request, std::size_t tray);

}  // namespace takehold::client
