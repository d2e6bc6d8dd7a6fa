#include "client/terminal/chart.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "client/terminal/numbers.hpp"
#include "client/terminal/text_width.hpp"

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
  /// The row, 0 at the top, on which `value` falls.
  int row_of(double value) const {
    const double part = (high - value) / (high - low);
    return std::clamp(static_cast<int>(std::lround(part * (rows - 1))), 0, rows - 1);
  }
  double value_of(int row) const { return high - (high - low) * row / (rows - 1); }
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

}  // namespace

std::string chart_text(std::span<const std::optional<double>> values, const ChartOptions& options,
                       const TerminalStyle& style) {
  const auto columns = columns_of(values, options.width);
  const auto scale = scale_for(columns, options);
  if (!scale) return {};
  const auto is_band_row = [&](int row) {
    return (options.band_low && scale->row_of(*options.band_low) == row) ||
           (options.band_high && scale->row_of(*options.band_high) == row);
  };
  const std::string_view dot = style.unicode ? "●" : "*", band = style.unicode ? "·" : ".";
  const int margin = std::max(text_width(fixed(scale->low, options.decimals)),
                              text_width(fixed(scale->high, options.decimals)));
  std::string text;
  for (int row = 0; row < scale->rows; ++row) {
    text += padded_left(fixed(scale->value_of(row), options.decimals), margin);
    text += style.unicode ? " │" : " |";
    for (const auto& value : columns) {
      const bool here = value && scale->row_of(*value) == row;
      text += here ? dot : is_band_row(row) ? band : " ";
    }
    text.erase(text.find_last_not_of(' ') + 1);
    text += '\n';
  }
  const int plot = static_cast<int>(columns.size());
  const int between =
      std::max(1, plot - text_width(options.left_end) - text_width(options.right_end));
  if (!options.left_end.empty() || !options.right_end.empty()) {
    text += std::string(static_cast<std::size_t>(margin + 2), ' ') + options.left_end +
            std::string(static_cast<std::size_t>(between), ' ') + options.right_end + '\n';
  }
  return text;
}

}  // namespace takehold::client
