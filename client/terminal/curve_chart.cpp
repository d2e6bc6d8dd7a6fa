#include "client/terminal/curve_chart.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "client/terminal/numbers.hpp"
#include "client/terminal/text_width.hpp"

namespace takehold::client {
namespace {

struct Signs {
  std::string_view point, many, curve, band;
};

Signs signs_of(const TerminalStyle& style) {
  return style.unicode ? Signs{"●", "◉", "─", "░"} : Signs{"o", "@", "-", ":"};
}

class Canvas {
 public:
  Canvas(const CurveChart& chart, const Signs& signs) : chart_(chart), signs_(signs) {
    for (const ChartPoint& point : chart.points) widen(point.x, point.y);
    for (const ChartCurve& at : chart.curve) {
      widen(at.x, at.y);
      if (at.low) widen(at.x, *at.low);
      if (at.high) widen(at.x, *at.high);
    }
    rows_.assign(static_cast<std::size_t>(chart.height),
                 std::vector<std::string_view>(static_cast<std::size_t>(chart.width), " "));
    draw_curve();
    draw_points();
  }

  double y_of(int row) const { return high_ - (high_ - low_) * row / (chart_.height - 1); }
  double left() const { return left_; }
  double right() const { return right_; }

  std::string row(int row) const {
    std::string text;
    for (const auto sign : rows_[static_cast<std::size_t>(row)]) text += sign;
    return text;
  }

 private:
  void widen(double x, double y) {
    left_ = std::min(left_, x);
    right_ = std::max(right_, x);
    low_ = std::min(low_, y);
    high_ = std::max(high_, y);
  }
  int column_of(double x) const {
    const double part = right_ > left_ ? (x - left_) / (right_ - left_) : 0.5;
    return static_cast<int>(std::lround(part * (chart_.width - 1)));
  }
  int row_of(double y) const {
    const double part = high_ > low_ ? (high_ - y) / (high_ - low_) : 0.5;
    return static_cast<int>(std::lround(part * (chart_.height - 1)));
  }
  std::string_view& at(int row, int column) {
    return rows_[static_cast<std::size_t>(row)][static_cast<std::size_t>(column)];
  }

  /// The curve between its two neighbours at each column.
  void draw_curve() {
    for (int column = 0; column < chart_.width && !chart_.curve.empty(); ++column) {
      const double x = left_ + (right_ - left_) * column / (chart_.width - 1);
      const auto after = std::find_if(chart_.curve.begin(), chart_.curve.end(),
                                      [&](const ChartCurve& c) { return c.x >= x - 1e-9; });
      if (after == chart_.curve.end()) break;
      if (after == chart_.curve.begin() && after->x > x + 1e-9) continue;
      const ChartCurve& b = *after;
      const ChartCurve& a = after == chart_.curve.begin() ? b : *(after - 1);
      const double part = b.x > a.x ? (x - a.x) / (b.x - a.x) : 0;
      const auto between = [&](double from, double to) { return from + part * (to - from); };
      if (a.low && b.low && a.high && b.high) {
        const int bottom = row_of(between(*a.low, *b.low));
        for (int row = row_of(between(*a.high, *b.high)); row <= bottom; ++row) {
          at(row, column) = signs_.band;
        }
      }
      at(row_of(between(a.y, b.y)), column) = signs_.curve;
    }
  }

  void draw_points() {
    for (const ChartPoint& point : chart_.points) {
      std::string_view& sign = at(row_of(point.y), column_of(point.x));
      sign = sign == signs_.point || sign == signs_.many ? signs_.many : signs_.point;
    }
  }

  const CurveChart& chart_;
  Signs signs_;
  double left_ = INFINITY, right_ = -INFINITY, low_ = INFINITY, high_ = -INFINITY;
  std::vector<std::vector<std::string_view>> rows_{};
};

}  // namespace

std::string curve_chart_text(const CurveChart& chart, const TerminalStyle& style) {
  if (chart.points.empty() && chart.curve.empty()) return {};
  const Signs signs = signs_of(style);
  const Canvas canvas(chart, signs);
  int margin = 0;
  for (int row = 0; row < chart.height; ++row) {
    margin = std::max(margin, text_width(fixed(canvas.y_of(row), chart.y_decimals)));
  }
  std::string text = chart.y_name + "\n";
  for (int row = 0; row < chart.height; ++row) {
    const bool named = row % 2 == 0 || row + 1 == chart.height;
    std::string line = padded_left(named ? fixed(canvas.y_of(row), chart.y_decimals) : "", margin) +
                       (style.unicode ? " │" : " |") + canvas.row(row);
    line.erase(line.find_last_not_of(' ') + 1);
    text += line + "\n";
  }
  const std::string left = fixed(canvas.left(), chart.x_decimals);
  const std::string right = fixed(canvas.right(), chart.x_decimals);
  const int gap = chart.width - text_width(left) - text_width(right);
  const std::string name = cut_to_width(chart.x_name, std::max(0, gap - 2), style.unicode);
  const int before = (gap - text_width(name)) / 2;
  text += std::string(static_cast<std::size_t>(margin + 2), ' ') + left +
          padded_left(name, before + text_width(name)) +
          padded_left(right, gap - before - text_width(name) + text_width(right)) + "\n";
  const bool band = std::any_of(chart.curve.begin(), chart.curve.end(),
                                [](const ChartCurve& c) { return c.low.has_value(); });
  return text + fmt::format("{} one, {} several, {} the fit{}\n", signs.point, signs.many,
                            signs.curve,
                            band ? fmt::format(", {} 9 in 10 lie here", signs.band) : "");
}

}  // namespace takehold::client
