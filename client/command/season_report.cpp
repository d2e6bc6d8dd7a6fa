#include "client/command/season_report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "client/command/batch_fates.hpp"
#include "client/command/chart_pages.hpp"
#include "client/command/crop_report.hpp"
#include "client/command/opened_book.hpp"
#include "client/command/plant_words.hpp"
#include "client/growth/stem.hpp"
#include "client/takes/things_to_try.hpp"
#include "client/terminal/numbers.hpp"

namespace takehold::client {
namespace {

constexpr double kRow_mm = 9, kAround_mm = 22;  // of a chart of rows

std::string percent(double share) {
  return fixed(share * 100, 0) + " %";
}

double height_of(std::size_t rows) {
  return kAround_mm + kRow_mm * static_cast<double>(std::max<std::size_t>(rows, 1));
}

ReportSection plan_section(const Book& book) {
  ReportSection section{"The plan", {}, {}, {}, {}};
  const auto rows = plan_rows(book);
  if (rows.empty()) {
    section.words.emplace_back("No plan was accepted.");
    return section;
  }
  section.words.emplace_back(
      "Green bars are scions and plants on their own roots, grey ones rootstocks, from sowing to "
      "the graft; brick-red ones are grafts, from the cut to the day of setting out.");
  section.chart =
      ReportChart{height_of(rows.size()), "the plan, day by day",
                  [rows](Paper& paper, const Box& box) { draw_days(paper, box, "", rows); }};
  return section;
}

ReportSection sowing_section(const Book& book, Units units) {
  std::map<std::string, int> standing;
  for (const Emerged& count : book.all<Emerged>()) {
    int& most = standing[count.sowing];
    most = std::max(most, count.standing);
  }
  ReportTable table{{{"sowing", 0.8},
                     {"variety", 2.4},
                     {"lot", 1.4},
                     {"sown on", 1.3},
                     {"seeds", 0.8, false, Across::right},
                     {"came up", 1, false, Across::right}},
                    {}};
  const auto sowings = book.all<Sowing>();
  for (const Sowing& sowing : sowings) {
    const auto up = standing.find(sowing.id);
    table.rows.push_back({sowing.id, variety_of_lot(book, sowing.lot), sowing.lot,
                          sensors::to_string(book.time_zone().day_of(sowing.at)),
                          std::to_string(sowing.seeds),
                          up == standing.end() ? "not counted" : std::to_string(up->second)});
  }
  ReportSection section{"Seedlings", {}, {}, std::move(table), {}};
  const TimeChart chart = growth_chart(book, sowings, units);
  if (chart.span.to > chart.span.from) {
    section.words.push_back(
        "Every dot is one stem measured; the shaded band holds the diameters that grafting clips "
        "fit, " +
        shown(Graftable{}.thinnest, units, 1) + " to " + shown(Graftable{}.thickest, units, 1) +
        ".");
    section.chart = ReportChart{90, "stem diameters over time",
                                [chart, zone = book.time_zone()](Paper& paper, const Box& box) {
                                  draw_time_chart(paper, box, chart, zone);
                                }};
  }
  return section;
}

ReportSection take_section(const TakeRecord& record) {
  ReportSection section{"What took", {}, {}, {}, {}};
  const auto rows = take_intervals(record);
  Tally all;
  for (const auto& row : record.pairings) {
    all.yes += row.tally.yes;
    all.tried += row.tally.tried;
  }
  if (all.tried == 0) {
    section.words.emplace_back("No graft has been judged yet.");
    return section;
  }
  section.words.push_back(fmt::format(
      "A graft takes when scion and rootstock have grown together and it lives on: {} of {} judged "
      "so far. The dot is the likely share of each pairing, the line where it lies 9 times in 10. "
      "Few grafts leave a long line; each pairing also learns from all the others.",
      all.yes, counted(all.tried, "graft", "grafts")));
  section.chart =
      ReportChart{height_of(rows.size()), "share of grafts that took, by pairing",
                  [rows](Paper& paper, const Box& box) { draw_intervals(paper, box, "", rows); }};
  ReportTable table{{{"pairing", 3},
                     {"grafted", 1, false, Across::right},
                     {"taken", 1, false, Across::right},
                     {"likely", 1, false, Across::right},
                     {"9 times in 10", 1.6, false, Across::right}},
                    {}};
  for (const TakeRow& row : take_rows(record.pairings)) {
    table.rows.push_back({row.pairing, std::to_string(row.grafted), std::to_string(row.taken),
                          percent(row.mean), percent(row.p05) + " to " + percent(row.p95)});
  }
  section.table = std::move(table);
  for (const auto& batch : record.pending) {
    section.afterwords.push_back(fmt::format("Not counted yet: {} {}, {}.", batch.batch,
                                             batch.pairing,
                                             counted(batch.grafts, "graft", "grafts")));
  }
  return section;
}

ReportSection loss_section(const std::vector<BatchFate>& batches, const WhatSpoils& found) {
  ReportSection section{"What was lost", {}, {}, {}, {}};
  std::map<Cause, int> causes;
  for (const BatchFate& batch : batches) {
    for (const LossNote& loss : batch.losses) causes[loss.cause] += loss.count;
  }
  if (causes.empty()) section.words.emplace_back("No graft was lost.");
  if (!causes.empty()) {
    ReportTable table{{{"noted as", 3}, {"grafts", 1, false, Across::right}}, {}};
    for (const auto& [cause, count] : causes) {
      table.rows.push_back({std::string(to_text(cause)), std::to_string(count)});
    }
    section.table = std::move(table);
  }
  for (const FactorEffect& effect : found.effects) {
    section.afterwords.push_back(fmt::format(
        "{}: the odds of a take were {:.2f} times as large, 19 times in 20 between {:.2f} and "
        "{:.2f}{}.",
        effect.of, effect.odds_ratio, effect.low, effect.high,
        effect.is_clear() ? "" : ", so it may be nothing"));
  }
  if (!found.effects.empty()) {
    section.afterwords.emplace_back(
        "These things went together with failure. That does not say why: grafts were not dealt out "
        "by chance, and only a trial can tell.");
  }
  return section;
}

ReportSection try_section(const std::vector<Try>& tries) {
  ReportSection section{"Worth trying next season", {}, {}, {}, {}};
  if (tries.empty()) section.words.emplace_back("Nothing can be said before grafts were judged.");
  for (const Try& one : tries) {
    section.words.push_back(fmt::format(
        "To try: {}. Worth about {:.1f} more plants of 100 grafts ({}: {}). {}", one.what,
        one.gain_per_100, one.source, one.why,
        one.grafts_each ? fmt::format("To find out: {} grafts each way.", *one.grafts_each)
                        : "It would take over 300 grafts each way to show."));
  }
  return section;
}

}  // namespace

Report season_report(const Book& book, sensors::Instant now, Units units) {
  const auto season = season_in(book);
  const auto fates = batch_fates(book);
  const WhatSpoils found = what_spoils(fates);
  Report report;
  report.title = "Grafted tomatoes, season " + season.season;
  report.made = "as the book stood on " + sensors::to_string(book.time_zone().day_of(now));
  report.sections = {plan_section(book), sowing_section(book, units), take_section(takes_of(book)),
                     loss_section(fates, found)};
  for (ReportSection& section : crop_sections(book)) report.sections.push_back(std::move(section));
  report.sections.push_back(try_section(things_to_try(fates, found)));
  return report;
}

}  // namespace takehold::client
