// The changes that advice is looked for among, and what each makes of a request.
#pragma once

#include <vector>

#include "client/forecast/advice.hpp"

namespace takehold::client {

/// Cooler benches for either side, top-up waves of either side, and first sessions.
std::vector<Advice> changes_to_try(const ForecastRequest& request, const ForecastPairing& pairing);

/// The request with a cooler bench, or with one tray more at its end, which on the rootstock's side
/// serves the whole cohort.
ForecastRequest changed(const ForecastRequest& request, const Advice& advice, const Cohort& cohort,
                        std::size_t pairing);

}  // namespace takehold::client
