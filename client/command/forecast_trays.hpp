// The trays that a forecast looks at: what is sown, and what is planned and still to be sown.
#pragma once

#include <string>
#include <vector>

#include "client/book/book.hpp"
#include "client/command/bench_warmth.hpp"
#include "client/forecast/forecast_request.hpp"
#include "client/plan/season_plan.hpp"

namespace takehold::client {

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
