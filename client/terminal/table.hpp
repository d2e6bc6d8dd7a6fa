// A plain table: a head (left out where no column has one), then rows. No frames.
#pragma once

#include <string>
#include <vector>

#include "client/terminal/style.hpp"

namespace takehold::client {

enum class Align {
  left,
  right,
  decimal,  ///< decimal points under each other; cells that are no number stand at the right
};

struct Column {
  std::string head;
  Align align = Align::left;
};

/// Collects rows, then prints them as wide as they need to be, or as wide as the place is (unless
/// it is a pipe): then the widest left-aligned columns are cut first, and numbers are never cut.
class Table {
 public:
  explicit Table(std::vector<Column> columns) : columns_(std::move(columns)) {}

  /// One cell a column; missing ones are empty, more than the columns is a mistake of ours.
  void add(std::vector<std::string> cells);
  bool is_empty() const { return rows_.empty(); }

  /// Lines ending in '\n'. A table without rows gives nothing.
  std::string text(const TerminalStyle& style) const;

 private:
  std::vector<int> natural_widths() const;
  std::vector<int> fitted_widths(int columns) const;

  std::vector<Column> columns_;
  std::vector<std::vector<std::string>> rows_;
};

}  // namespace takehold::client
