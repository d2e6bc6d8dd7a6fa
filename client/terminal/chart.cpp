#include "client/terminal/chart.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <vector>

#include "client/terminal/numbers.hpp"
#include "client/terminal/text_width.hpp"
#include "sensors/trace/axis.hpp"

namespace takehold::client {
namespace {

/// The values of one column averaged; missing only where all of them are.
std::vector<std::optional<double>> columns_of(std::span<const std::optional<double>> values,
                                              int width) {
  const std::size_t count = std::min(values.size(), static_cast<std::size_t>(width));
  std::vector<std::optional<double>> columns;
  for (std::size_t i = 0; i < count; ++i) {
    double sum = 0.0;
    int known = 0;
    const std::size_t to = (i + 1) * values.size() / count;
    for (std::size_t j = i * values.size() / count; j < to; ++j) {
      if (!values[j]) continue;
      sum += *values[j];
      ++known;
    }
    columns.push_back(known == 0 ? std::nullopt : std::optional(sum / known));
  }
  return columns;
}

struct Scale {
  double low, high;
  int rows;
  /// How far below the top row's middle `value` falls, in rows.
  double depth_of(double value) const {
    return std::clamp((high - value) / (high - low), 0.0, 1.0) * (rows - 1);
  }
  int row_of(double value) const { return static_cast<int>(std::lround(depth_of(value))); }
};

std::optional<Scale> scale_for(const std::vector<std::optional<double>>& columns,
                               const ChartOptions& options) {
  std::vector<double> all;
  for (const auto& value : columns) {
    if (value) all.push_back(*value);
  }
  if (all.empty()) return std::nullopt;
  if (options.band_low) all.push_back(*options.band_low);
  if (options.band_high) all.push_back(*options.band_high);
  const auto [low, high] = std::minmax_element(all.begin(), all.end());
  const double least_height = std::pow(10.0, -options.decimals);
  const double spare = std::max(0.0, least_height - (*high - *low)) / 2.0;
  return Scale{*low - spare, *high + spare, std::max(2, options.height)};
}

/// Round values beside the rows that are nearest to them, where the scale leaves room for them.
std::map<int, std::string> marks_of(const Scale& scale) {
  std::map<int, std::string> marks;
  const auto ticks = sensors::value_ticks({scale.low, scale.high}, std::max(3, scale.rows / 2 + 1));
  for (const double value : ticks.at) {
    marks.emplace(scale.row_of(value), fixed(value, ticks.decimals));
  }
  return marks;
}

/// The stroke of a value inside its row: high, middle or low.
std::string_view stroke(double depth) {
  static constexpr std::string_view kStrokes[] = {"⎺", "⎻", "─", "⎼", "⎽"};
  const double inside = depth - std::lround(depth);  // -0.5 high to 0.5 low
  return kStrokes[std::clamp(static_cast<int>(std::floor((inside + 0.5) * 5)), 0, 4)];
}

class Plot {
 public:
  Plot(const std::vector<std::optional<double>>& columns, const Scale& scale,
       const ChartOptions& options, const TerminalStyle& style)
      : columns_(columns), scale_(scale), options_(options), style_(style) {}

  std::string_view cell(int row, std::size_t column) const {
    const auto& value = columns_[column];
    if (value && scale_.row_of(*value) == row) {
      return style_.unicode ? stroke(scale_.depth_of(*value)) : "*";
    }
    if (is_joined(row, column)) return style_.unicode ? "│" : "|";
    return in_band(row, column) ? (style_.unicode ? "·" : ".") : " ";
  }

 private:
  /// Between this value and the one before it, which stands more than a row away.
  bool is_joined(int row, std::size_t column) const {
    if (column == 0 || !columns_[column] || !columns_[column - 1]) return false;
    const auto [above, below] =
        std::minmax(scale_.row_of(*columns_[column]), scale_.row_of(*columns_[column - 1]));
    return above < row && row < below;
  }
  /// ASCII has no faint sign: there only the borders are dotted.
  bool in_band(int row, std::size_t column) const {
    if (double(column) < options_.band_from * double(columns_.size())) return false;
    const int top = options_.band_high ? scale_.row_of(*options_.band_high) : 0;
    const int bottom = options_.band_low ? scale_.row_of(*options_.band_low) : scale_.rows - 1;
    if (!options_.band_low && !options_.band_high) return false;
    if (style_.unicode) return top <= row && row <= bottom;
    return (options_.band_high && row == top) || (options_.band_low && row == bottom);
  }

  const std::vector<std::optional<double>>& columns_;
  const Scale& scale_;
  const ChartOptions& options_;
  const TerminalStyle& style_;
};

}  // namespace

std::string chart_text(std::span<const std::optional<double>> values, const ChartOptions& options,
                       const TerminalStyle& style) {
  const auto columns = columns_of(values, options.width);
  const auto scale = scale_for(columns, options);
  if (!scale) return {};
  const Plot plot(columns, *scale, options, style);
  const auto marks = marks_of(*scale);
  int margin = 0;
  for (const auto& [row, mark] : marks) margin = std::max(margin, text_width(mark));
  std::string text;
  for (int row = 0; row < scale->rows; ++row) {
    const auto mark = marks.find(row);
    text += padded_left(mark == marks.end() ? "" : mark->second, margin);
    text += style.unicode ? (mark == marks.end() ? " │" : " ┤") : " |";
    for (std::size_t i = 0; i < columns.size(); ++i) text += plot.cell(row, i);
    text.erase(text.find_last_not_of(' ') + 1);
    text += '\n';
  }
  const int drawn = static_cast<int>(columns.size());
  const int between =
      std::max(1, drawn - text_width(options.left_end) - text_width(options.right_end));
  if (!options.left_end.empty() || !options.right_end.empty()) {
    text += std::string(static_cast<std::size_t>(margin + 2), ' ') + options.left_end +
            std::string(static_cast<std::size_t>(between), ' ') + options.right_end + '\n';
  }
  return text;
}

}  // namespace takehold::client
