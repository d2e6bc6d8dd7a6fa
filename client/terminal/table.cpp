#include "client/terminal/table.hpp"

#include <algorithm>
#include <cassert>
#include <cctype>
#include <numeric>

#include "client/terminal/text_width.hpp"

namespace takehold::client {
namespace {

constexpr int kGap = 2;          // blanks between columns
constexpr int kLeastColumn = 6;  // a text column is never cut narrower

bool is_number(const std::string& cell) {
  return std::any_of(cell.begin(), cell.end(),
                     [](unsigned char c) { return std::isdigit(c) != 0; });
}

/// Columns behind the decimal point, the point included: 0 for "12", 2 for "1.5", 4 for "1.5 C".
int behind_point(const std::string& cell) {
  if (!is_number(cell)) return 0;
  std::size_t end = cell.find('.');
  if (end == std::string::npos) end = cell.find_last_of("0123456789") + 1;
  return text_width(std::string_view(cell).substr(end));
}

/// Blanks added behind, so that right alignment puts the points under each other.
void align_points(std::vector<std::vector<std::string>>& rows, std::size_t column) {
  int most = 0;
  for (const auto& row : rows) most = std::max(most, behind_point(row[column]));
  for (auto& row : rows) {
    if (!is_number(row[column])) continue;
    row[column].append(static_cast<std::size_t>(most - behind_point(row[column])), ' ');
  }
}

std::string trimmed(std::string line) {
  line.erase(line.find_last_not_of(' ') + 1);
  return line;
}

}  // namespace

void Table::add(std::vector<std::string> cells) {
  assert(cells.size() <= columns_.size());
  cells.resize(columns_.size());
  rows_.push_back(std::move(cells));
}

std::vector<int> Table::natural_widths() const {
  std::vector<int> widths;
  for (std::size_t i = 0; i < columns_.size(); ++i) {
    int width = text_width(columns_[i].head);
    for (const auto& row : rows_) width = std::max(width, text_width(row[i]));
    widths.push_back(width);
  }
  return widths;
}

std::vector<int> Table::fitted_widths(int columns) const {
  std::vector<int> widths = natural_widths();
  const int gaps = kGap * (static_cast<int>(widths.size()) - 1);
  while (std::accumulate(widths.begin(), widths.end(), gaps) > columns) {
    std::size_t widest = columns_.size();
    for (std::size_t i = 0; i < columns_.size(); ++i) {
      if (columns_[i].align != Align::left || widths[i] <= kLeastColumn) continue;
      if (widest == columns_.size() || widths[i] > widths[widest]) widest = i;
    }
    if (widest == columns_.size()) break;  // nothing left to cut: let it run over
    --widths[widest];
  }
  return widths;
}

std::string Table::text(const TerminalStyle& style) const {
  if (rows_.empty()) return {};
  Table aligned = *this;
  for (std::size_t i = 0; i < columns_.size(); ++i) {
    if (columns_[i].align == Align::decimal) align_points(aligned.rows_, i);
  }
  const std::vector<int> widths =
      style.cuts ? aligned.fitted_widths(style.width) : aligned.natural_widths();
  const auto line = [&](auto cell_of) {
    std::string text;
    for (std::size_t i = 0; i < columns_.size(); ++i) {
      const std::string cell = cut_to_width(cell_of(i), widths[i], style.unicode);
      text += columns_[i].align == Align::left ? padded_right(cell, widths[i])
                                               : padded_left(cell, widths[i]);
      text += std::string(kGap, ' ');
    }
    return trimmed(std::move(text));
  };
  std::string all;
  const auto has_head = [](const Column& column) { return !column.head.empty(); };
  if (std::any_of(columns_.begin(), columns_.end(), has_head)) {
    all = inked(line([&](std::size_t i) { return columns_[i].head; }), Ink::strong, style) + '\n';
  }
  for (const auto& row : aligned.rows_) {
    all += line([&](std::size_t i) { return row[i]; }) + '\n';
  }
  return all;
}

}  // namespace takehold::client
