// The season plan, by simulated seasons.
#pragma once

#include <functional>

#include "client/plan/season_plan.hpp"

namespace takehold::client {

/// How a plan is worked out; none of it changes what the plan says.
struct PlanWork {
  int threads = 0;  ///< 0: as many as the machine has
  /// Told how many pairings are done, of how many, by one thread at a time.
  std::function<void(int done, int all)> progress{};
};

/// The cheapest sowings and grafts with which each pairing reaches the confidence, and what they
/// lead to. How: docs/numerics/plan.md. Too little seed, too little time or an unsuitable bench are
/// warnings, not failures. Throws Refused only for a request that does not hang together: code
/// "unknown-variety" or "unknown-lot".
SeasonPlan plan_season(const PlanRequest& request, const PlanWork& work = {});

}  // namespace takehold::client
