#include "client/plan/season_plan.hpp"

namespace takehold::client {

PlanRequest request_of(const Sheet& sheet, Day made_on, std::chrono::minutes regime_length) {
  PlanRequest request;
  request.made_on = made_on;
  request.season = sheet.season;
  request.benches = sheet.benches;
  request.varieties = sheet.varieties;
  request.lots = sheet.lots;
  request.lot_tests = sheet.lot_tests;
  request.pairings = sheet.pairings;
  request.own_roots = sheet.own_roots;
  request.regime_length = regime_length;
  return request;
}

}  // namespace takehold::client
