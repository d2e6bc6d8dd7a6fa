// The trays that a forecast looks at: what is sown, and what is planned and still to be sown.
#pragma once

#include <string>
#include <vector>

#include "client/book/book.hpp"
#include "client/forecast/forecast_request.hpp"
#include "client/plan/season_plan.hpp"

namespace takehold::client {

/// How much of the past warmth was logged by probes, over all trays.
struct WarmthKnown {
  int past_hours = 0, logged_hours = 0, missing_hours = 0;
};

struct ForecastTrays {
  std::vector<ForecastLot> lots{};
  std::vector<ForecastTray> trays{};
  std::vector<SownSeed> seeds{};  ///< whom each tray is for, in the trays' order
  WarmthKnown warmth{};
  std::vector<std::string> planned{};  ///< lines of the plan counted as sown on their day
};

/// Of these lots, each with its posterior. Own roots are among the trays, for whoever asks.
ForecastTrays forecast_trays(const Book& book, sensors::Instant now, const std::vector<Lot>& lots);

}  // namespace takehold::client
