// `plan --explain P`: why this day and this count.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

#include "client/plan/explain.hpp"
#include "client/terminal/style.hpp"

namespace takehold::client {

/// The pairing of the plan typed as its number or "Scion/Rootstock", either name cut short. Codes
/// "not-there", "ambiguous".
const PlannedPairing& pairing_in(const SeasonPlan& plan, std::string_view typed);

/// Words, a chart of both stems' diameters day by day, and the chance against rootstock seed.
std::string explanation_text(const PlanRequest& request, const SeasonPlan& plan,
                             const PlannedPairing& pairing, const Explanation& told,
                             const TerminalStyle& style);

/// {pairing, scion, rootstock, days:[{on, rootstock_mm{p10,p50,p90}, scion_mm{..}, matched_pairs}],
/// by_seed:[{rootstock_seeds, probability}], reasons:[..]}
nlohmann::json explanation_json(const PlanRequest& request, const SeasonPlan& plan,
                                const PlannedPairing& pairing, const Explanation& told);

}  // namespace takehold::client
