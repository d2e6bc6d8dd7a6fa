// Which day to graft on, and which ages the sowings may have then.
#pragma once

#include <optional>
#include <vector>

#include "client/plan/season_plan.hpp"
#include "client/plan/side_plan.hpp"

namespace takehold::client {

struct GraftDay {
  Day on;
  bool late = false;          ///< hardened only after the season's window
  std::vector<int> shifts{};  ///< days around it on which the grower can graft in time; 0 is there
};

/// Whole days from sowing that end on `graft_on`, begin on a work day and not before the day the
/// plan is made; none beyond the course.
std::vector<int> ages_allowed(const PlanRequest& request, const Course& course, Day graft_on);

/// The last work day by which the plants are hardened on `ready_on`, no more than three weeks
/// early; later when the middle seedlings of new sowings, of speeds `to_sow`, cannot be graftable
/// by then. Sides that are sown already do not ask for that. Nothing when no day within 200 days
/// does.
std::optional<GraftDay> choose_graft_day(const PlanRequest& request, const Course& course,
                                         const std::vector<LotSpeed>& to_sow, Day ready_on);

}  // namespace takehold::client
