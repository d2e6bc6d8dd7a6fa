// `plan --trays`: which lot goes into which cell of which tray, and how many trays stand where.
#pragma once

#include <map>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "client/plan/season_plan.hpp"
#include "client/plan/tray_layout.hpp"
#include "client/terminal/style.hpp"

namespace takehold::client {

/// The trays of one sowing day; runs refer to `lines`.
struct SowingDayTrays {
  Day on{};
  std::vector<const SowingLine*> lines{};  ///< of the plan, which outlives this
  std::vector<FilledTray> trays{};
};
std::vector<SowingDayTrays> trays_of(const SeasonPlan& plan, int cells_per_tray);

/// Trays on a day, as if every seed came up: seedlings that share a cell have one each from the
/// tenth day on (common practice), leave the bench for the chamber at the graft, and come back as
/// grafts until they are set out. The most that is needed, not what is likely.
struct SpaceDay {
  Day on{};  ///< from this day on, until the next
  int bench = 0;
  int chamber = 0;
};
std::vector<SpaceDay> space_by_day(const PlanRequest& request, const SeasonPlan& plan);

std::string trays_text(const PlanRequest& request, const SeasonPlan& plan,
                       const TerminalStyle& style);
/// {trays:[{tray,sow_on,cells:[{first_cell,cells,lot,variety,seeds}]}],
/// space:[{on,bench_trays,chamber_trays}]}
nlohmann::json trays_json(const PlanRequest& request, const SeasonPlan& plan);

}  // namespace takehold::client
