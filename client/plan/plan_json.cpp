#include <nlohmann/json.hpp>

#include "client/plan/season_plan.hpp"

namespace takehold::client {
namespace {

using nlohmann::json;

template <class T>
json or_null(const std::optional<T>& value) {
  return value ? json(*value) : json(nullptr);
}

json or_null(const std::optional<Day>& day) {
  return day ? json(sensors::to_string(*day)) : json(nullptr);
}

json of_sowings(const std::vector<ProposedSowing>& sowings) {
  json list = json::array();
  for (const auto& sowing : sowings) {
    list.push_back({{"lot", or_null(sowing.lot)},
                    {"variety", sowing.variety},
                    {"sow_on", sensors::to_string(sowing.sow_on)},
                    {"seeds", sowing.seeds},
                    {"cells", sowing.cells},
                    {"sowing", or_null(sowing.sowing)}});
  }
  return list;
}

json of_pairing(const PlannedPairing& p) {
  const json limited_by = p.limited_by ? json(to_text(*p.limited_by)) : json(nullptr);
  return {
      {"id", p.id.empty() ? json(nullptr) : json(p.id)},
      {"scion", p.scion},
      {"rootstock", p.rootstock},
      {"want", p.want},
      {"taken", p.made.taken},
      {"pending", p.made.pending},
      {"graft_on", or_null(p.graft_on)},
      {"rootstock_sowings", of_sowings(p.rootstock_sowings)},
      {"scion_sowings", of_sowings(p.scion_sowings)},
      {"offset_days", or_null(p.offset_days)},
      {"grafts", p.grafts},
      {"finished", {{"p10", p.finished.p10}, {"mean", p.finished.mean}, {"p90", p.finished.p90}}},
      {"probability", p.probability},
      {"standard_error", or_null(p.standard_error)},
      {"limited_by", limited_by},
      {"cost", p.cost}};
}

json of_own_root(const PlannedOwnRoot& o) {
  return {{"variety", o.variety},        {"want", o.want},   {"lot", or_null(o.lot)},
          {"sow_on", or_null(o.sow_on)}, {"seeds", o.seeds}, {"cells", o.cells},
          {"probability", o.probability}};
}

json of_line(const SowingLine& line) {
  return {{"lot", or_null(line.lot)},
          {"variety", line.variety},
          {"sow_on", sensors::to_string(line.sow_on)},
          {"seeds", line.seeds},
          {"cells", line.cells},
          {"for", line.purposes},
          {"side", to_text(line.side)}};
}

template <class T, class Convert>
json list_of(const std::vector<T>& items, Convert convert) {
  json list = json::array();
  for (const auto& item : items) list.push_back(convert(item));
  return list;
}

}  // namespace

void to_json(json& out, const SeasonPlan& plan) {
  out = {{"confidence", plan.confidence},
         {"ready_on", sensors::to_string(plan.ready_on)},
         {"seasons", plan.seasons},
         {"random_seed", plan.seed},
         {"pairings", list_of(plan.pairings, of_pairing)},
         {"own_root", list_of(plan.own_root, of_own_root)},
         {"sowings", list_of(plan.sowings, of_line)}};
  // The contract names both the random seed and the list of lots "seed"; one key holds one thing,
  // and the lots have it.
  out["seed"] = list_of(plan.seeds, [](const SeedBalance& s) {
    return json{
        {"lot", s.lot}, {"on_hand", s.on_hand}, {"needed", s.needed}, {"short", s.short_by}};
  });
  out["buy"] = list_of(plan.buy, [](const SeedPurchase& b) {
    return json{{"variety", b.variety},
                {"lot", or_null(b.lot)},
                {"seeds", b.seeds},
                {"plants_gained", b.plants_gained},
                {"price", or_null(b.price)},
                {"packets", list_of(b.packets, [](const PacketGain& p) {
                   return json{{"seeds", p.seeds},
                               {"plants_gained", p.plants_gained},
                               {"price", or_null(p.price)}};
                 })}};
  });
  out["shared"] = list_of(plan.shared, [](const SharedSowing& s) {
    return json{{"lot", or_null(s.lot)},
                {"variety", s.variety},
                {"seeds", s.seeds},
                {"seeds_apart", s.seeds_apart},
                {"pairings", s.pairings}};
  });
  out["chamber"] = plan.chamber;
  out["rests_on"] = list_of(plan.rests_on, [](const PlanNumber& n) {
    return json{{"what", n.what},        {"about", n.about},      {"value", n.value},
                {"p05", or_null(n.p05)}, {"p95", or_null(n.p95)}, {"from", to_text(n.from)},
                {"text", n.text}};
  });
  out["warnings"] = list_of(plan.warnings, [](const PlanNote& n) {
    return json{{"code", n.code}, {"about", n.about}, {"text", n.text}};
  });
}

}  // namespace takehold::client
