#include "client/print/sheet_page.hpp"

#include <algorithm>
#include <cmath>

namespace takehold::client {
namespace {

constexpr double kMargin = 14;
constexpr double kRow = 7.5;  // of a table: room for a pencil
constexpr double kPad = 1;
constexpr double kLine = 0.47;  // millimetres of a line for each point of its letters

}  // namespace

SheetPage::SheetPage(Paper& paper, std::string heading, std::string under)
    : paper_(paper), heading_(std::move(heading)), under_(std::move(under)) {
  begin();
}

double SheetPage::bottom() const {
  return paper_.page().height - kMargin;
}

double SheetPage::width() const {
  return paper_.page().width - 2 * kMargin;
}

void SheetPage::begin() {
  y_ = kMargin;
  write({kMargin, y_, width() * 0.7, 10}, heading_,
        {.size_pt = 18, .smallest_pt = 8, .bold = true});
  write({kMargin + width() * 0.7, y_ + 2, width() * 0.3, 8}, under_,
        {.size_pt = 9, .smallest_pt = 6, .across = Across::right, .shade = kGrey});
  y_ += 11;
  paper_.line({kMargin, y_}, {kMargin + width(), y_}, 0.4);
  y_ += 4;
}

void SheetPage::keep(double height) {
  if (y_ + height <= bottom() || height > bottom() - kMargin - 15) return;
  paper_.next_page();
  begin();
}

void SheetPage::write(const Box& box, std::string_view text, const TextStyle& style) {
  if (paper_.text(box, text, style) == Fit::shortened) shortened_ = true;
}

// Lines it will break into, judged by its width with room for ragged ends.
double SheetPage::height_of(std::string_view text, double width, const TextStyle& style) const {
  const double lines = std::ceil(paper_.text_width(text, style) / (width * 0.94) + 1e-9);
  const auto breaks = static_cast<double>(std::count(text.begin(), text.end(), '\n'));
  return (std::max(1.0, lines) + breaks) * style.size_pt * kLine;
}

void SheetPage::title(std::string_view text) {
  keep(9 + 2 * kRow);
  y_ += 2;
  write({kMargin, y_, width(), 6.5}, text, {.size_pt = 12, .smallest_pt = 7, .bold = true});
  y_ += 7.5;
}

void SheetPage::paragraph(std::string_view text, double size_pt) {
  const TextStyle style{.size_pt = size_pt, .smallest_pt = 6};
  const double height = height_of(text, width(), style);
  keep(height);
  write({kMargin, y_, width(), height}, text, style);
  y_ += height + 1.5;
}

void SheetPage::banner(std::string_view text) {
  const TextStyle style{.size_pt = 30, .smallest_pt = 12, .bold = true};
  const double height = height_of(text, width(), style);
  keep(height);
  write({kMargin, y_, width(), height}, text, style);
  y_ += height + 2;
}

void SheetPage::caution(std::string_view text) {
  const TextStyle style{.size_pt = 9.5, .smallest_pt = 6};
  const double height = height_of(text, width() - 6, style) + 4;
  keep(height + 3);
  y_ += 1.5;
  const Box box{kMargin, y_, width(), height};
  paper_.frame(box, 0.5, kBrick);
  write({box.x + 3, box.y + 2, box.width - 6, height - 4}, text, style);
  y_ += height + 3;
}

Box SheetPage::room(double height) {
  keep(height);
  const Box box{kMargin, y_, width(), height};
  y_ += height + 2;
  return box;
}

void SheetPage::table(std::span<const SheetColumn> columns,
                      std::span<const std::vector<std::string>> rows) {
  double shares = 0;
  for (const SheetColumn& column : columns) shares += column.share;
  const auto line = [&](const std::vector<std::string>& cells, bool is_head) {
    double x = kMargin;
    for (std::size_t i = 0; i < columns.size(); ++i) {
      const double wide = width() * columns[i].share / shares;
      const Box cell{x + kPad, y_, wide - 2 * kPad, kRow};
      const std::string text = i < cells.size() ? cells[i] : "";
      if (columns[i].is_box && !is_head && text.empty()) {
        const double side = std::min(wide - 2 * kPad, wide > 12 ? wide : 4.5);
        paper_.frame({cell.x, y_ + 1.4, side, kRow - 2.8}, 0.25, kGrey);
      } else {
        write(cell, text,
              {.size_pt = is_head ? 8.5 : 10,
               .smallest_pt = 5,
               .bold = is_head,
               .across = columns[i].across,
               .down = Down::middle,
               .shade = is_head ? kGrey : kBlack});
      }
      x += wide;
    }
    y_ += kRow;
    paper_.line({kMargin, y_}, {kMargin + width(), y_}, is_head ? 0.4 : 0.15,
                is_head ? kBlack : kPale);
  };
  std::vector<std::string> heads;
  for (const SheetColumn& column : columns) heads.push_back(column.head);
  keep(3 * kRow);
  line(heads, true);
  for (const auto& row : rows) {
    if (y_ + kRow > bottom()) {
      paper_.next_page();
      begin();
      line(heads, true);
    }
    line(row, false);
  }
  y_ += 2;
}

}  // namespace takehold::client
