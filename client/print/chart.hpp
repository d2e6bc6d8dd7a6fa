// Charts on paper: something over time with the band it should keep, intervals of shares, and work
// spread over days.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "client/print/paper.hpp"
#include "sensors/quantity/time_zone.hpp"
#include "sensors/trace/axis.hpp"

namespace takehold::client {

struct ChartLine {
  std::string name{};
  std::vector<sensors::Sample> samples{};  ///< by time; a missing value breaks the line
  Shade shade = kLeaf;
  bool dashed = false;
  bool dots = false;  ///< only dots, no line: single measurements
};

/// What was asked for during a span: shaded behind the lines.
struct ChartBand {
  sensors::TimeSpan span{};
  double low = 0, high = 0;
};

struct TimeChart {
  std::string title{};  ///< with its unit: "Temperature, °C"
  sensors::TimeSpan span{};
  std::vector<ChartLine> lines{};
  std::vector<ChartBand> bands{};
};

/// The same in another unit: each value times `factor`, plus `offset`.
void rescale(TimeChart& chart, double factor, double offset);

/// Value marks at the left, times of the wall clock below, days named once. Where nothing was
/// observed it says so.
void draw_time_chart(Paper& paper, const Box& box, const TimeChart& chart,
                     const sensors::TimeZone& zone);

/// A share between 0 and 1 and how sure it is.
struct IntervalRow {
  std::string name{};
  std::string detail{};  ///< "45 of 50"
  double low = 0, middle = 0, high = 0;
};
/// Rows below each other over a scale of 0 to 100 %. All rows stand in the box.
void draw_intervals(Paper& paper, const Box& box, const std::string& title,
                    std::span<const IntervalRow> rows);

/// A stretch of days, both ends in it.
struct DayBar {
  sensors::Day from{};
  sensors::Day to{};
  std::string text{};
  Shade shade = kLeaf;
};
struct DayRow {
  std::string name{};
  std::vector<DayBar> bars{};
};
/// Weeks across, rows below each other.
void draw_days(Paper& paper, const Box& box, const std::string& title,
               std::span<const DayRow> rows);

}  // namespace takehold::client
