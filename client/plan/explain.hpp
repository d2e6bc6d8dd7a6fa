// Why a pairing's plan is as it is: its stems day by day, and what more or less seed would do.
#pragma once

#include <optional>
#include <vector>

#include "client/plan/season_plan.hpp"

namespace takehold::client {

/// Diameters of the stems standing on a day, over all simulated seasons; not the graftable alone.
struct StemBand {
  double p10_mm = 0;
  double p50_mm = 0;
  double p90_mm = 0;
};

struct ExplainedDay {
  Day on{};
  std::optional<StemBand> rootstock{};  ///< nothing while hardly any stands
  std::optional<StemBand> scion{};
  double pairs = 0;  ///< expected, if grafted on that day alone
};

/// The probability with so many rootstock seeds, all else as planned and no stems shared.
struct SeedChance {
  int rootstock_seeds = 0;
  double probability = 0;
};

struct Explanation {
  std::vector<ExplainedDay> days{};
  std::vector<SeedChance> by_seed{};
};

/// From the sowings that the plan lists, in 1024 seasons. Both lists are empty where the pairing
/// has no graft day or nothing to sow on one side. Throws as plan_season does.
Explanation explain_pairing(const PlanRequest& request, const PlannedPairing& planned);

}  // namespace takehold::client
