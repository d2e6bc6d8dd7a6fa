// The season plan without simulation: dates from average plants, counts from closed forms.
#pragma once

#include "client/plan/season_plan.hpp"

namespace takehold::client {

/// Plans each pairing by itself, one sowing a side. Its simplifications are listed in
/// docs/numerics/simple_plan.md and said in the plan's first warning, code "simple-plan".
/// Too little seed, too little time or an unsuitable bench are warnings, not failures. Throws
/// Refused only for a request that does not hang together: code "unknown-variety" or "unknown-lot".
SeasonPlan plan_simply(const PlanRequest& request);

}  // namespace takehold::client
