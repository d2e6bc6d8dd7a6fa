// The charts that `chart` writes and the season's report holds, drawn from the book.
#pragma once

#include <string>
#include <vector>

#include "client/book/book.hpp"
#include "client/command/takes.hpp"
#include "client/link/link.hpp"
#include "client/print/chart.hpp"

namespace takehold::client {

/// Rows of draw_intervals: 90 % intervals of what is believed.
std::vector<IntervalRow> take_intervals(const TakeRecord& record);

/// The stems of these sowings as measured, over time, with the diameters that clips hold shaded.
TimeChart growth_chart(const Book& book, const std::vector<Sowing>& sowings, Units units);

/// Sowing, grafting and healing of each pairing, as accepted.
std::vector<DayRow> plan_rows(const Book& book);

/// The chamber's temperature and humidity over a span, with what the batches in it asked for.
struct ClimateCharts {
  TimeChart temperature;
  TimeChart humidity;
};
/// `readings` is the daemon's answer to the span's readings; code "bad-answer" if it is not.
ClimateCharts climate_charts(const Book& book, const nlohmann::json& readings,
                             sensors::TimeSpan span, Units units);

}  // namespace takehold::client
