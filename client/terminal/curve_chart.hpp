// Points, a curve through them and the band about it, in characters.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "client/terminal/style.hpp"

namespace takehold::client {

struct ChartPoint {
  double x = 0, y = 0;
};

/// The curve at one x; its band where it has one.
struct ChartCurve {
  double x = 0, y = 0;
  std::optional<double> low{}, high{};
};

struct CurveChart {
  std::vector<ChartPoint> points{};
  std::vector<ChartCurve> curve{};  ///< by rising x
  std::string x_name{}, y_name{};   ///< with their units
  int width = 60, height = 14;      ///< of the plot itself
  int x_decimals = 0, y_decimals = 1;
};

/// Lines ending in '\n', with both scales, and a last line that says which sign is what. Nothing to
/// draw: "".
std::string curve_chart_text(const CurveChart& chart, const TerminalStyle& style);

}  // namespace takehold::client
