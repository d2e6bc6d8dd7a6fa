// Which pairings ought not to be joined, or need care where they are set out; each thing said once.
#pragma once

#include "client/plan/season_plan.hpp"
#include "client/plan/seed_box.hpp"

namespace takehold::client {

/// Codes of JoiningNote, about the rootstock or the bed with all scions it concerns; and
/// bed-trouble, bed-trouble-unknown about the rootstock.
std::vector<PlanNote> notes_on_joining(const PlanRequest& request, const SeedBox& box);

}  // namespace takehold::client
