#include <nlohmann/json.hpp>

#include "client/forecast/forecast.hpp"

namespace takehold::client {
namespace {

using nlohmann::json;

json or_null(const std::optional<Day>& day) {
  return day ? json(sensors::to_string(*day)) : json();
}

json day_json(const DayOutlook& day) {
  return {{"on", sensors::to_string(day.on)},
          {"matched_pairs", day.matched_pairs},
          {"best", day.best},
          {"allowed", day.allowed},
          {"rootstocks", day.rootstocks},
          {"scions", day.scions}};
}

json range_json(const std::optional<DayOutlookRange>& range) {
  if (!range) return {{"p10", nullptr}, {"p50", nullptr}, {"p90", nullptr}};
  return {{"p10", sensors::to_string(range->p10)},
          {"p50", sensors::to_string(range->p50)},
          {"p90", sensors::to_string(range->p90)}};
}

json count_json(const CountOutlook& count) {
  return {{"p10", count.p10}, {"mean", count.mean}, {"p90", count.p90}};
}

json advice_json(const Advice& advice) {
  const auto if_kind = [&](AdviceKind kind, json value) {
    return advice.kind == kind ? std::move(value) : json();
  };
  const bool of_side = advice.kind == AdviceKind::cooler || advice.kind == AdviceKind::top_up;
  const bool by_bench = advice.kind == AdviceKind::cooler && !advice.bench.empty();
  return {{"kind", std::string(to_text(advice.kind))},
          {"side", of_side ? json(std::string(to_text(advice.side))) : json()},
          {"trays", if_kind(AdviceKind::cooler, advice.trays)},
          {"cooler_degc", if_kind(AdviceKind::cooler, advice.cooler_kelvin)},
          {"for_days", if_kind(AdviceKind::cooler, advice.days)},
          {"bench", by_bench ? json(advice.bench) : json()},
          {"lot", if_kind(AdviceKind::top_up, advice.lot)},
          {"seeds", if_kind(AdviceKind::top_up, advice.seeds)},
          {"first_on", if_kind(AdviceKind::in_two, sensors::to_string(advice.on))},
          {"first_pairs", if_kind(AdviceKind::in_two, advice.pairs)},
          {"want", if_kind(AdviceKind::shrink, advice.want)},
          {"finished_before", advice.useful_before},
          {"finished_after", advice.useful_after},
          {"gain_standard_error", advice.gain_error},
          {"probability_before", advice.probability_before},
          {"probability_after", advice.probability_after}};
}

}  // namespace

void to_json(json& document, const PairingForecast& told) {
  json days = json::array(), advice = json::array();
  for (const DayOutlook& day : told.by_day) days.push_back(day_json(day));
  for (const Advice& one : told.advice) advice.push_back(advice_json(one));
  document = {{"pairing", told.id},
              {"scion", told.scion},
              {"rootstock", told.rootstock},
              {"want", told.want},
              {"rootstock_sowings", told.rootstock_trays},
              {"scion_sowings", told.scion_trays},
              {"graft_on", range_json(told.graft_on)},
              {"never", told.never},
              {"by_day", std::move(days)},
              {"matched_pairs", count_json(told.matched_pairs)},
              {"finished", count_json(told.finished)},
              {"finished_wanted", told.useful},
              {"probability", told.probability},
              {"last_on", sensors::to_string(told.last_on)},
              {"planned",
               {{"graft_on", or_null(told.planned_on)},
                {"probability", told.promised ? json(*told.promised) : json()},
                {"moved_days", told.planned_on && told.graft_on
                                   ? json((told.graft_on->p50 - *told.planned_on).count())
                                   : json()}}},
              {"advice", std::move(advice)}};
}

}  // namespace takehold::client
