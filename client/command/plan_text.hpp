// A season plan as a grower reads it.
#pragma once

#include <string>

#include "client/plan/season_plan.hpp"
#include "client/terminal/style.hpp"

namespace takehold::client {

/// Sowings by date, pairings, seed that is short and what to buy, warnings. Lines ending in '\n'.
std::string plan_text(const SeasonPlan& plan, const TerminalStyle& style);

/// What holds a pairing back, in a grower's words.
std::string words_for(LimitedBy limit);

}  // namespace takehold::client
