// `plan --what-if`: the same season with something changed.
#pragma once

#include <string>
#include <vector>

#include "client/plan/season_plan.hpp"
#include "client/terminal/style.hpp"

namespace takehold::client {

/// Changes a request as typed: "confidence=0.95" or "95%", "ready_on=2027-05-20", "bench=72F" (day
/// and night; bare in `units`; "bench_degc=22" in any), "window_days=3", "tolerance_pct=15",
/// "want:P1=8", "seed:IF-26=60" (on hand). Code "bad-what-if" (wrong usage) for anything else,
/// naming these.
void change(PlanRequest& request, const std::vector<std::string>& typed, Units units);

/// Both plans side by side: seeds, cost and chance of each pairing. Lines ending in '\n'.
std::string what_if_text(const SeasonPlan& now, const SeasonPlan& then,
                         const std::vector<std::string>& typed, const TerminalStyle& style);

}  // namespace takehold::client
