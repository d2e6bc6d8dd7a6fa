// What a plan rests on, for people.
#pragma once

#include <string>

#include "client/plan/season_plan.hpp"
#include "client/terminal/style.hpp"

namespace takehold::client {

/// Lots and take rates, each number marked as the grower's own or assumed. Empty without pairings.
std::string rests_on_text(const SeasonPlan& plan, const TerminalStyle& style);

}  // namespace takehold::client
