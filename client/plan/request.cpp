#include "client/plan/season_plan.hpp"

namespace takehold::client {

PlanRequest request_of(const Sheet& sheet, Day made_on, std::chrono::minutes regime_length) {
  PlanRequest request;
  request.made_on = made_on;
  request.season = sheet.season;
  request.beds = sheet.beds;
  request.benches = sheet.benches;
  request.varieties = sheet.varieties;
  request.lots = sheet.lots;
  request.lot_tests = sheet.lot_tests;
  request.pairings = sheet.pairings;
  request.own_roots = sheet.own_roots;
  request.regime_length = regime_length;
  return request;
}

PlanRequest request_of(const Sheet& sheet, Day made_on, const daemon::Regime& regime) {
  PlanRequest request = request_of(sheet, made_on, daemon::whole_length(regime));
  request.regime = regime;
  request.chamber_length = std::chrono::minutes(0);
  for (const daemon::Stage& stage : regime.stages) {
    if (stage.where == daemon::StagePlace::bench) break;
    request.chamber_length += stage.length;
  }
  return request;
}

}  // namespace takehold::client
