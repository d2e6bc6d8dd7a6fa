#include "client/command/forecast_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "client/terminal/days.hpp"
#include "client/terminal/numbers.hpp"
#include "client/terminal/table.hpp"
#include "client/terminal/text_width.hpp"

namespace takehold::client {
namespace {

constexpr int kBarWidth = 20;

std::string listed(const std::vector<std::string>& names) {
  std::string text;
  for (const std::string& name : names) text += (text.empty() ? "" : ", ") + name;
  return text.empty() ? "none" : text;
}

std::string day_text(Day day, const TerminalStyle& style) {
  return shown_with_weekday(day, style.dates);
}

std::string bar(double share, const TerminalStyle& style) {
  const auto full = static_cast<int>(std::lround(share * kBarWidth));
  std::string text;
  for (int i = 0; i < full; ++i) text += style.unicode ? "█" : "#";
  return text;
}

std::string head(const PairingForecast& told, const TerminalStyle& style) {
  const std::string names = fmt::format("{} {}/{}", told.id, told.scion, told.rootstock);
  return inked(names, Ink::strong, style) + fmt::format("  (rootstocks {}, scions {})\n",
                                                        listed(told.rootstock_trays),
                                                        listed(told.scion_trays));
}

std::string against_plan(const PairingForecast& told, const TerminalStyle& style) {
  if (!told.planned_on || !told.graft_on) return "";
  const auto moved = (told.graft_on->p50 - *told.planned_on).count();
  const std::string promise =
      told.promised ? fmt::format(", promised {}", chance(*told.promised)) : "";
  const std::string change =
      moved == 0 ? "as planned"
                 : fmt::format("{} {} than planned", counted(std::abs(moved), "day", "days"),
                               moved > 0 ? "later" : "earlier");
  return fmt::format("{}: the plan said {}{}. ", change, day_text(*told.planned_on, style),
                     promise);
}

std::string in_words(const PairingForecast& told, const TerminalStyle& style) {
  if (!told.graft_on) {
    return "No two stems will match on any day that is looked at: too far apart, or one side is "
           "missing. ";
  }
  const DayOutlookRange& range = *told.graft_on;
  std::string text = fmt::format("Best day to graft: {}; 8 times in 10 between {} and {}; {} ",
                                 day_text(range.p50, style), day_text(range.p10, style),
                                 day_text(range.p90, style), against_plan(told, style));
  text += fmt::format("Pairs that match then: {:.1f} expected, {} to {} 8 times in 10. ",
                      told.matched_pairs.mean, told.matched_pairs.p10, told.matched_pairs.p90);
  if (told.want < 1) return text + "All that are wanted are grafted already. ";
  text += fmt::format("Finished in time (grafted by {}): {:.1f} expected; all {} wanted: {}. ",
                      day_text(told.last_on, style), told.finished.mean, told.want,
                      chance(told.probability));
  return text;
}

std::string days_table(const PairingForecast& told, const TerminalStyle& style) {
  Table table({{"day"},
               {"rootstocks", Align::decimal},
               {"scions", Align::decimal},
               {"pairs", Align::decimal},
               {"best day", Align::right},
               {""}});
  double most = 0;
  for (const DayOutlook& day : told.by_day) most = std::max(most, day.best);
  for (const DayOutlook& day : told.by_day) {
    if (day.matched_pairs < 0.05 && day.best <= 0) continue;
    const std::string closed = day.allowed ? "" : "not a free day";
    table.add({day_text(day.on, style), fixed(day.rootstocks, 1), fixed(day.scions, 1),
               fixed(day.matched_pairs, 1), fmt::format("{:.0f} %", 100 * day.best),
               most > 0 && closed.empty() ? bar(day.best / most, style) : closed});
  }
  return table.text(style);
}

}  // namespace

std::string advice_text(const Advice& advice, const TerminalStyle& style) {
  const std::string side(to_text(advice.side));
  std::string text;
  switch (advice.kind) {
    case AdviceKind::cooler: {
      const double shown_by = style.units == Units::us ? 1.8 : 1.0;
      text = fmt::format("Carry the {}s ({}) for {} to a place {:g} {} cooler{}", side,
                         listed(advice.trays), counted(advice.days, "day", "days"),
                         advice.cooler_kelvin * shown_by, style.units == Units::us ? "°F" : "°C",
                         advice.bench.empty() ? "" : " (" + advice.bench + ")");
      break;
    }
    case AdviceKind::top_up:
      text = fmt::format("Sow {} more of {} today, as {}", counted(advice.seeds, "seed", "seeds"),
                         advice.lot, side);
      break;
    case AdviceKind::in_two:
      text = fmt::format(
          "Graft in two sessions: what matches on {} (about {:.0f}), the others "
          "when most of them match",
          day_text(advice.on, style), advice.pairs);
      break;
    case AdviceKind::shrink:
      if (advice.want < 1) return "Not one plant can be promised as surely as you ask.";
      return fmt::format("Count on {}: that is as sure as you ask ({} instead of {}).", advice.want,
                         chance(advice.probability_after), chance(advice.probability_before));
  }
  return fmt::format("{}: {:.1f} finished plants instead of {:.1f}, all of them {} instead of {}.",
                     text, advice.useful_after, advice.useful_before,
                     chance(advice.probability_after), chance(advice.probability_before));
}

std::string forecast_text(const PairingForecast& told, bool whole, const TerminalStyle& style) {
  std::string text = head(told, style) + wrapped(in_words(told, style), style.width) + "\n";
  if (whole) text += days_table(told, style);
  if (!told.advice.empty()) text += "What would help (simulated)\n";
  for (const Advice& advice : told.advice) {
    text += wrapped(advice_text(advice, style), style.width, "  ") + "\n";
  }
  return text + "\n";
}

}  // namespace takehold::client
