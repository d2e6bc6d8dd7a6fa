// What a forecast is made from, taken from the book.
#pragma once

#include <string>
#include <vector>

#include "client/book/book.hpp"
#include "client/command/forecast_trays.hpp"
#include "daemon/healing/regime.hpp"

namespace takehold::client {

struct BookForecast {
  ForecastRequest request{};
  WarmthKnown warmth{};
  std::vector<std::string> planned{};  ///< lines of the plan counted as sown on their day
};

/// Pairings with trays on either side, or planned sowings that are still to be done. `only`: these
/// alone ("P3"), and those that share their rootstocks; empty: all. Code "no-season".
BookForecast forecast_request(const Book& book, sensors::Instant now, const daemon::Regime& regime,
                              const std::vector<std::string>& only);

}  // namespace takehold::client
