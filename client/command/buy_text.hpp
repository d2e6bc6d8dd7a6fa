// What more seed would bring, for people.
#pragma once

#include <string>

#include "client/plan/season_plan.hpp"
#include "client/terminal/style.hpp"

namespace takehold::client {

/// All that is missing in a table, then packet by packet what another of which lot gains and costs.
/// Empty where nothing is missing.
std::string buy_text(const SeasonPlan& plan, const TerminalStyle& style);

}  // namespace takehold::client
