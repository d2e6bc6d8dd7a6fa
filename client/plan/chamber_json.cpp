#include <nlohmann/json.hpp>

#include "client/plan/chamber_plan.hpp"

namespace takehold::client {
namespace {

using nlohmann::json;

json or_null(const std::optional<int>& value) {
  return value ? json(*value) : json(nullptr);
}

json of_moves(const std::vector<GraftMove>& moves) {
  json list = json::array();
  for (const GraftMove& move : moves) {
    list.push_back({{"pairing", move.pairing},
                    {"from", sensors::to_string(move.from)},
                    {"to", sensors::to_string(move.to)},
                    {"ready_on", move.ready_on ? json(sensors::to_string(*move.ready_on)) : json()},
                    {"is_free", move.is_free}});
  }
  return list;
}

}  // namespace

void to_json(json& out, const ChamberPlan& plan) {
  json days = json::array(), collisions = json::array();
  for (const ChamberDay& day : plan.days) {
    days.push_back({{"on", sensors::to_string(day.on)},
                    {"grafts", day.grafts},
                    {"plants", day.plants},
                    {"trays", day.trays}});
  }
  for (const ChamberCollision& one : plan.collisions) {
    collisions.push_back({{"code", one.code},
                          {"on", sensors::to_string(one.on)},
                          {"about", one.about},
                          {"text", one.text}});
  }
  out = {{"places", or_null(plan.places)},
         {"trays", or_null(plan.trays)},
         {"grafts_per_day", or_null(plan.grafts_per_day)},
         {"days", days},
         {"moved", of_moves(plan.moved)},
         {"collisions", collisions},
         {"resolve", of_moves(plan.resolve)},
         {"is_resolvable", plan.is_resolvable},
         {"is_exact", plan.is_exact}};
}

}  // namespace takehold::client
