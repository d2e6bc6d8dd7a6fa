#include "client/command/chart_pages.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>
#include <nlohmann/json.hpp>

#include "client/command/batch_view.hpp"
#include "client/command/opened_book.hpp"
#include "client/command/plant_words.hpp"
#include "client/growth/stem.hpp"
#include "client/season/planned.hpp"
#include "client/terminal/numbers.hpp"
#include "daemon/healing/asks.hpp"

namespace takehold::client {

using nlohmann::json;

namespace {

constexpr std::array<Shade, 5> kShades{kLeaf, kBrick, Shade{0.15, 0.30, 0.60},
                                       Shade{0.55, 0.40, 0.05}, kGrey};

Shade shade_of(std::size_t index) {
  return kShades.at(index % kShades.size());
}

sensors::Sample sample_of(const json& bucket, const char* quantity) {
  const auto at = sensors::parse_instant(bucket.at("at").get<std::string>());
  sensors::Sample sample{at.value(), std::nullopt};
  const auto& spread = bucket.at(quantity);
  if (!spread.is_null()) sample.value = spread.at("mean").get<double>();
  return sample;
}

TimeChart readings_chart(const json& readings, const char* quantity, std::string title,
                         sensors::TimeSpan span) {
  TimeChart chart{std::move(title), span, {}, {}};
  for (const auto& probe : readings.at("probes")) {
    ChartLine line{probe.at("probe").get<std::string>()};
    line.shade = shade_of(chart.lines.size());
    for (const auto& bucket : probe.at("buckets")) {
      line.samples.push_back(sample_of(bucket, quantity));
    }
    chart.lines.push_back(std::move(line));
  }
  return chart;
}

// A moving band in steps of an hour: finer than a reader sees.
void add_bands(ClimateCharts& charts, const Batch& batch, const std::vector<BatchEvent>& events,
               sensors::Instant until, sensors::TimeSpan span) {
  constexpr std::chrono::hours kStep{1};
  const auto regime = regime_of(batch);
  const auto manual = manual_events(events);
  for (auto at = std::max(batch.at, span.from); at < std::min(until, span.to); at += kStep) {
    const auto stage = daemon::stage_at(regime, batch.at, manual, at);
    const auto asks = daemon::chamber_asks(regime, stage).asks;
    const sensors::TimeSpan step{at, std::min(at + kStep, until)};
    if (asks.temperature) {
      charts.temperature.bands.push_back(
          {step, asks.temperature->low.degc(), asks.temperature->high.degc()});
    }
    if (asks.humidity) {
      charts.humidity.bands.push_back(
          {step, daemon::number_of(asks.humidity->low), daemon::number_of(asks.humidity->high)});
    }
  }
}

// Left the chamber: finished, or moved out of it.
sensors::Instant left_at(const Book& book, const std::string& batch, sensors::Instant end) {
  for (const Move& move : book.all<Move>()) {
    if (move.subject == batch && move.to != kChamber) end = std::min(end, move.at);
  }
  for (const Finish& finish : book.all<Finish>()) {
    if (finish.batch == batch) end = std::min(end, finish.at);
  }
  return end;
}

}  // namespace

std::vector<IntervalRow> take_intervals(const TakeRecord& record) {
  std::vector<IntervalRow> rows;
  for (const TakeRow& row : take_rows(record.pairings)) {
    rows.push_back(
        {row.pairing, fmt::format("{} of {}", row.taken, row.grafted), row.p05, row.mean, row.p95});
  }
  return rows;
}

TimeChart growth_chart(const Book& book, const std::vector<Sowing>& sowings, Units units) {
  TimeChart chart{"Stems below the seed leaves, " + std::string(unit_of_length(units)), {}, {}, {}};
  std::map<std::string, std::size_t> lines;
  std::optional<sensors::TimeSpan> span;
  for (const Sowing& sowing : sowings) {
    lines.emplace(sowing.id, chart.lines.size());
    ChartLine line{sowing.id + " " + variety_of_lot(book, sowing.lot)};
    line.shade = shade_of(chart.lines.size());
    line.dots = true;
    chart.lines.push_back(std::move(line));
  }
  for (const Measurement& measurement : book.all<Measurement>()) {
    const auto line = lines.find(measurement.sowing);
    if (line == lines.end()) continue;
    for (const Stem& stem : measurement.stems) {
      chart.lines[line->second].samples.push_back({measurement.at, stem.diameter.mm()});
    }
    if (!span) span = {measurement.at, measurement.at};
    span->from = std::min(span->from, measurement.at);
    span->to = std::max(span->to, measurement.at);
  }
  if (!span) return chart;
  constexpr std::chrono::hours kAround{12};
  chart.span = {span->from - kAround, span->to + kAround};
  const Graftable graftable;
  chart.bands.push_back({chart.span, graftable.thinnest.mm(), graftable.thickest.mm()});
  if (units == Units::us) rescale(chart, 1 / 25.4, 0);
  return chart;
}

std::vector<DayRow> plan_rows(const Book& book) {
  std::vector<DayRow> rows;
  const auto sowings = book.all<PlannedSowing>();
  for (const PlannedGraft& graft : book.all<PlannedGraft>()) {
    const auto pairing = book.find<Pairing>(graft.pairing);
    if (!pairing) continue;
    for (const PlannedSowing& sowing : sowings) {
      const auto& for_whom = sowing.pairings;
      if (std::find(for_whom.begin(), for_whom.end(), graft.pairing) == for_whom.end()) continue;
      const bool below = sowing.side == Side::rootstock;
      rows.push_back(
          {fmt::format("{} {}", graft.pairing, below ? pairing->rootstock : pairing->scion),
           {{sowing.sow_on, graft.graft_on, fmt::format("{} seeds", sowing.seeds),
             below ? kGrey : kLeaf}}});
    }
    const auto ready = pairing->ready_on.value_or(season_in(book).ready_on);
    rows.push_back({fmt::format("{} grafts", graft.pairing),
                    {{graft.graft_on, ready, fmt::format("{} grafts", graft.grafts), kBrick}}});
  }
  for (const PlannedSowing& sowing : sowings) {
    if (sowing.side != Side::own_root) continue;
    rows.push_back({variety_of_lot(book, sowing.lot) + ", own roots",
                    {{sowing.sow_on, season_in(book).ready_on,
                      fmt::format("{} seeds", sowing.seeds), kLeaf}}});
  }
  return rows;
}

ClimateCharts climate_charts(const Book& book, const json& readings, sensors::TimeSpan span,
                             Units units) {
  ClimateCharts charts;
  try {
    charts.temperature = readings_chart(
        readings, "temperature_degc",
        units == Units::us ? "Chamber: temperature, °F" : "Chamber: temperature, °C", span);
    charts.humidity = readings_chart(readings, "humidity_pct", "Chamber: humidity, %", span);
  } catch (const json::exception& trouble) {
    throw sensors::Refused(
        {"bad-answer", "the daemon's readings cannot be read", trouble.what(), "readings", ""});
  }
  const auto events = book.all<BatchEvent>();
  for (const Batch& batch : book.all<Batch>()) {
    const auto until = left_at(book, batch.id, span.to);
    if (batch.at >= span.to || until <= span.from) continue;
    std::vector<BatchEvent> own;
    std::copy_if(events.begin(), events.end(), std::back_inserter(own),
                 [&](const BatchEvent& e) { return e.batch == batch.id; });
    add_bands(charts, batch, own, until, span);
  }
  if (units == Units::us) rescale(charts.temperature, 1.8, 32);
  return charts;
}

}  // namespace takehold::client
