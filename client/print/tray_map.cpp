#include "client/print/tray_map.hpp"

#include <algorithm>
#include <cmath>

namespace takehold::client {
namespace {

constexpr double kMargin = 12;
constexpr double kHeading = 12;
constexpr double kTitle = 11;  // both lines over a map
constexpr double kCellHigh = 16;
constexpr double kBetween = 6;  // maps
constexpr int kAcross = 2;      // maps beside each other

int rows_of(const TrayMap& map) {
  return (static_cast<int>(map.cells.size()) + map.columns - 1) / map.columns;
}

double height_of(const TrayMap& map, double most) {
  return std::min(most, kTitle + rows_of(map) * kCellHigh);
}

Fit draw_cell(Paper& paper, const Box& box, const TrayCell& cell, int number) {
  paper.frame(box, 0.25, kGrey);
  const Box inside = box.inset(1);
  paper.text({inside.x, inside.y, inside.width, 3}, std::to_string(number),
             {.size_pt = 6, .smallest_pt = 4, .shade = kGrey});
  const double detail = cell.detail.empty() ? 0 : inside.height * 0.35;
  const Fit name =
      paper.text({inside.x, inside.y + 2.5, inside.width, inside.height - detail - 2.5}, cell.name,
                 {.size_pt = 13,
                  .smallest_pt = 5,
                  .bold = true,
                  .across = Across::centre,
                  .down = Down::middle});
  if (detail <= 0) return name;
  const Fit more = paper.text(
      {inside.x, inside.y + inside.height - detail, inside.width, detail}, cell.detail,
      {.size_pt = 8, .smallest_pt = 4.5, .across = Across::centre, .down = Down::bottom});
  return name == Fit::shortened ? name : more;
}

Fit draw_map(Paper& paper, const Box& box, const TrayMap& map) {
  Fit fit = paper.text({box.x, box.y, box.width, 5.5}, map.title,
                       {.size_pt = 11, .smallest_pt = 6, .bold = true});
  if (paper.text({box.x, box.y + 5.5, box.width, 5}, map.under,
                 {.size_pt = 8, .smallest_pt = 5, .shade = kGrey}) == Fit::shortened) {
    fit = Fit::shortened;
  }
  const double wide = box.width / map.columns;
  const double high = (box.height - kTitle) / rows_of(map);
  for (std::size_t i = 0; i < map.cells.size(); ++i) {
    const int column = static_cast<int>(i) % map.columns, row = static_cast<int>(i) / map.columns;
    const Box cell{box.x + column * wide, box.y + kTitle + row * high, wide, high};
    if (draw_cell(paper, cell, map.cells[i], static_cast<int>(i) + 1) == Fit::shortened) {
      fit = Fit::shortened;
    }
  }
  return fit;
}

}  // namespace

int tray_columns(int cells) {
  int rows = std::max(1, static_cast<int>(std::sqrt(static_cast<double>(cells))));
  while (cells % rows != 0) --rows;
  return cells / rows;
}

std::vector<std::string> draw_tray_maps(Paper& paper, std::span<const TrayMap> maps,
                                        std::string_view heading) {
  std::vector<std::string> shortened;
  const double width = (paper.page().width - 2 * kMargin - (kAcross - 1) * kBetween) / kAcross;
  const double top = kMargin + kHeading, bottom = paper.page().height - kMargin;
  double y = bottom, row_height = 0;  // so that the first map begins with a heading
  bool first = true;
  for (std::size_t i = 0; i < maps.size(); ++i) {
    const int column = static_cast<int>(i) % kAcross;
    if (column == 0) {
      y += row_height + kBetween;
      row_height = 0;
      for (std::size_t k = i; k < std::min(maps.size(), i + kAcross); ++k) {
        row_height = std::max(row_height, height_of(maps[k], bottom - top));
      }
      if (y + row_height > bottom) {
        if (!first) paper.next_page();
        first = false;
        paper.text({kMargin, kMargin, paper.page().width - 2 * kMargin, kHeading - 3}, heading,
                   {.size_pt = 15, .smallest_pt = 8, .bold = true});
        y = top;
      }
    }
    const Box box{kMargin + column * (width + kBetween), y, width,
                  height_of(maps[i], bottom - top)};
    if (draw_map(paper, box, maps[i]) == Fit::shortened) shortened.push_back(maps[i].title);
  }
  return shortened;
}

}  // namespace takehold::client
