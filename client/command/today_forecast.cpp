#include "client/command/today_forecast.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "client/command/batch_view.hpp"
#include "client/command/forecast_request.hpp"
#include "client/command/grafts_made.hpp"
#include "client/forecast/forecast.hpp"
#include "client/season/planned.hpp"
#include "client/terminal/days.hpp"
#include "client/terminal/numbers.hpp"
#include "client/terminal/text_width.hpp"
#include "daemon/healing/regime_toml.hpp"

namespace takehold::client {
namespace {

using nlohmann::json;

constexpr int kSeasons = 200;
constexpr std::size_t kMostShown = 3;
constexpr sensors::Days kNear{14};
constexpr double kNearlyAll = 0.9;  // of the best day's pairs

/// Pairings of the accepted plan whose day comes near, the next first, and that are not grafted.
std::vector<std::string> near_pairings(const Book& book, sensors::Day today) {
  std::vector<Recorded<PlannedGraft>> lines = book.records<PlannedGraft>();
  std::stable_sort(lines.begin(), lines.end(),
                   [](const auto& a, const auto& b) { return a.noun.graft_on < b.noun.graft_on; });
  std::vector<std::string> near;
  for (const auto& line : lines) {
    const sensors::Day on = line.noun.graft_on;
    const bool comes = on <= today + kNear && on + kNear >= today;
    if (!comes || near.size() == kMostShown || !batches_since(book, line).empty()) continue;
    near.push_back(line.noun.pairing);
  }
  return near;
}

bool is_counted(const ForecastRequest& request, const std::string& id) {
  for (const ForecastPairing& pairing : request.pairings) {
    if (pairing.id != id) continue;
    const auto counted = [&](const std::vector<TrayShare>& side) {
      return std::any_of(side.begin(), side.end(), [&](const TrayShare& share) {
        return request.trays[share.tray].state.standing.value_or(0) > 0;
      });
    };
    return counted(pairing.rootstocks) && counted(pairing.scions);
  }
  return false;
}

std::string line_of(const PairingForecast& told, const TerminalStyle& style) {
  const auto day = [&](sensors::Day on) { return shown_with_weekday(on, style.dates); };
  std::string text = fmt::format("{} {}/{}: ", told.id, told.scion, told.rootstock);
  if (!told.graft_on) return text + "no stems will match; why: takehold forecast " + told.id;
  text += "best day " + day(told.graft_on->p50);
  if (told.graft_on->p10 != told.graft_on->p90) {
    text += fmt::format(" (8 in 10: {} to {})", day(told.graft_on->p10), day(told.graft_on->p90));
  }
  if (told.planned_on) {
    const auto moved = (told.graft_on->p50 - *told.planned_on).count();
    text += moved == 0
                ? ", as planned"
                : fmt::format(", {} {} than planned", counted(std::abs(moved), "day", "days"),
                              moved > 0 ? "later" : "earlier");
  }
  text += fmt::format("; about {:.0f} pairs", told.matched_pairs.mean);
  const bool now = told.by_day.front().allowed &&
                   told.by_day.front().matched_pairs >= kNearlyAll * told.matched_pairs.mean;
  return now ? text + ", nearly all of them today already" : text;
}

json json_of(const PairingForecast& told) {
  json row{{"pairing", told.id},
           {"graft_on", nullptr},
           {"planned_on", nullptr},
           {"moved_days", nullptr},
           {"matched_pairs", told.matched_pairs.mean}};
  if (told.planned_on) row["planned_on"] = sensors::to_string(*told.planned_on);
  if (!told.graft_on) return row;
  row["graft_on"] = {{"p10", sensors::to_string(told.graft_on->p10)},
                     {"p50", sensors::to_string(told.graft_on->p50)},
                     {"p90", sensors::to_string(told.graft_on->p90)}};
  if (told.planned_on) row["moved_days"] = (told.graft_on->p50 - *told.planned_on).count();
  return row;
}

}  // namespace

json show_forecast(Context& context, const Book& book) {
  json list = json::array();
  const auto season = book.find<Season>("season");
  const auto ids = near_pairings(book, book.time_zone().day_of(context.now));
  if (!season || ids.empty()) return list;
  const auto regime = daemon::find_regime(season->regime, regime_folders());
  if (!regime) return list;
  BookForecast known = forecast_request(book, context.now, *regime, ids);
  known.request.seasons = kSeasons;
  const bool any = std::any_of(
      ids.begin(), ids.end(), [&](const std::string& id) { return is_counted(known.request, id); });
  if (!any) return list;
  const TerminalStyle& style = context.out.style();
  for (const PairingForecast& told : forecast(known.request, {false})) {
    const bool asked = std::find(ids.begin(), ids.end(), told.id) != ids.end();
    if (!asked || !is_counted(known.request, told.id)) continue;
    if (list.empty()) context.out.line(inked("Grafts to come", Ink::strong, style));
    context.out.line(wrapped(line_of(told, style), style.width, "  "));
    list.push_back(json_of(told));
  }
  return list;
}

}  // namespace takehold::client
