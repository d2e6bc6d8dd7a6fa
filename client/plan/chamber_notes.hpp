// What the grower should know about the chamber in this plan.
#pragma once

#include "client/plan/season_plan.hpp"

namespace takehold::client {

/// Codes: graft-day-moved, those of the collisions, chamber-moves, chamber-too-small,
/// chamber-nearly.
std::vector<PlanNote> notes_on_chamber(const ChamberPlan& chamber);

}  // namespace takehold::client
