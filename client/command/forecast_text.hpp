// A forecast as a grower reads it.
#pragma once

#include <string>

#include "client/forecast/forecast.hpp"
#include "client/terminal/style.hpp"

namespace takehold::client {

/// The days, the chances and what would help. `whole`: with a line for every day, else in brief.
std::string forecast_text(const PairingForecast& told, bool whole, const TerminalStyle& style);

/// "Carry S3 to a bench 4 °C cooler for 3 days: 5.1 finished plants instead of 4.2 (87 in 100
/// instead of 71)."
std::string advice_text(const Advice& advice, const TerminalStyle& style);

}  // namespace takehold::client
