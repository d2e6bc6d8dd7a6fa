#include "client/command/measure_suggest.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "client/command/batch_view.hpp"
#include "client/command/bench_warmth.hpp"
#include "client/command/forecast_request.hpp"
#include "client/command/recording.hpp"
#include "client/forecast/worth_measuring.hpp"
#include "client/terminal/numbers.hpp"
#include "client/terminal/table.hpp"
#include "client/terminal/text_width.hpp"
#include "daemon/healing/regime_toml.hpp"

namespace takehold::client {
namespace {

using nlohmann::json;

json suggestion_json(const ForecastRequest& request, const StemsToMeasure& one) {
  const ForecastTray& tray = request.trays[one.tray];
  const ForecastLot& lot = request.lots[tray.lot];
  return {{"sowing", tray.id},
          {"lot", lot.label},
          {"variety", lot.variety},
          {"standing", one.standing},
          {"measure", one.stems},
          {"sd_before_days", one.sd_before_days},
          {"sd_after_days", one.sd_after_days}};
}

/// Spread over the tray, for its edges are warmer or drier.
std::string which_text(const StemsToMeasure& one) {
  const int left_out = one.standing - one.stems;
  if (left_out <= 0) return "all";
  if (one.stems >= left_out) return fmt::format("leave out one in {}", one.standing / left_out);
  return fmt::format("one in {}, all over the tray", one.standing / one.stems);
}

std::string days_text(double days) {
  return fmt::format("{:.1f}", 1.2816 * days);  // 8 times in 10
}

void show(const ForecastRequest& request, const std::vector<StemsToMeasure>& all,
          Context& context) {
  const TerminalStyle& style = context.out.style();
  Table table({{"sowing"},
               {"lot"},
               {"measure", Align::right},
               {"of", Align::right},
               {"± days now", Align::decimal},
               {"then", Align::decimal},
               {"which"}});
  std::string none;
  for (const StemsToMeasure& one : all) {
    const ForecastTray& tray = request.trays[one.tray];
    if (one.stems == 0) {
      none += (none.empty() ? "" : ", ") + tray.id;
      continue;
    }
    table.add({tray.id, request.lots[tray.lot].label, std::to_string(one.stems),
               std::to_string(one.standing), days_text(one.sd_before_days),
               days_text(one.sd_after_days), which_text(one)});
  }
  if (table.is_empty()) {
    context.out.line(
        wrapped("No stem is worth measuring today: what is known of the graft day "
                "would hardly change, or nothing stands yet.",
                style.width));
    return;
  }
  context.out.text(table.text(style));
  context.out.line(
      wrapped("± days: within that, 8 times in 10, the middle stem is 2.0 mm thick.", style.width));
  if (!none.empty()) {
    context.out.line(wrapped("Not worth it today: " + none + ".", style.width));
  }
}

}  // namespace

void suggest_measuring(Context& context, int most) {
  Book book = open_book(context, BookUse::reading);
  const Season season = season_in(book);
  fetch_bench_hours(context, book);
  const auto known = forecast_request(
      book, context.now, daemon::find_regime(season.regime, regime_folders()).value(), {});
  MeasuringWork work;
  work.most = most;
  auto all = worth_measuring(known.request, work);
  std::erase_if(all, [&](const StemsToMeasure& one) {
    return known.request.trays[one.tray].age.count() < 0;
  });
  if (all.empty()) {
    refuse("nothing-sown", "no sowing is for a graft", "", "takehold sow");
  }
  show(known.request, all, context);
  json list = json::array();
  int stems = 0;
  for (const StemsToMeasure& one : all) {
    list.push_back(suggestion_json(known.request, one));
    stems += one.stems;
  }
  context.out.document({{"suggested", std::move(list)}, {"stems", stems}});
}

}  // namespace takehold::client
