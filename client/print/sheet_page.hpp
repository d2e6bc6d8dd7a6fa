// A page to take along: a heading, paragraphs, tables with boxes to tick, over as many pages as it
// takes.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "client/print/paper.hpp"

namespace takehold::client {

struct SheetColumn {
  std::string head{};
  double share = 1;     ///< of the table's width, against the other columns
  bool is_box = false;  ///< an empty box to tick or to write into
  Across across = Across::left;
};

/// Writes downwards and begins a new page, headed again, where one is full.
class SheetPage {
 public:
  SheetPage(Paper& paper, std::string heading, std::string under);

  void title(std::string_view text);
  void paragraph(std::string_view text, double size_pt = 10);
  /// Large and dark: what must be seen from afar.
  void banner(std::string_view text);
  /// In a frame: a caution.
  void caution(std::string_view text);
  /// The head is repeated on each page it reaches.
  void table(std::span<const SheetColumn> columns, std::span<const std::vector<std::string>> rows);
  void space(double millimetres) { y_ += millimetres; }
  /// A box of this height to draw into, on this page or the next.
  Box room(double height);

  bool was_shortened() const { return shortened_; }

 private:
  double bottom() const;
  double width() const;
  void begin();
  void keep(double height);
  double height_of(std::string_view text, double width, const TextStyle& style) const;
  void write(const Box& box, std::string_view text, const TextStyle& style);

  Paper& paper_;
  std::string heading_, under_;
  double y_ = 0;
  bool shortened_ = false;
};

}  // namespace takehold::client
