// Plants on their own roots, on their way to a plan.
#pragma once

#include <optional>

#include "client/growth/warmth.hpp"
#include "client/plan/seed_box.hpp"

namespace takehold::client {

struct RootDraft {
  const OwnRoot* wish = nullptr;
  std::size_t source = 0;
  std::optional<Day> sow_on{};
  int needed = 0;  ///< for the confidence
  int listed = 0;  ///< of seed that is there, or to be bought as a whole lot
};

/// Day, source and count of one wish; its need is taken out of the box. Sown so long before
/// ready_on as a scion of its kind, less the days that a graft stands still while its vessels join.
RootDraft draft_own_root(const PlanRequest& request, const Course& course, const OwnRoot& wish,
                         SeedBox& box);

}  // namespace takehold::client
