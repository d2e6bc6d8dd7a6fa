// Maps of trays: which seedling or graft stands in which cell.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "client/print/paper.hpp"

namespace takehold::client {

/// One cell as it is written into the map, from large to small; empty: nothing stands there.
struct TrayCell {
  std::string name{};    ///< "3" or "5, 6"
  std::string detail{};  ///< "2.05 mm on 2.10"; or empty
};

struct TrayMap {
  std::string title{};  ///< "S12 Quarry Pink, tray 1 of 2"
  std::string under{};  ///< "sown 2027-03-20, 12 seeds, lot QP-24"
  int columns = 3;
  std::vector<TrayCell> cells{};  ///< row by row from the upper left, label side towards you
};

/// Columns and so rows of a tray of `cells`: as near to square as the count divides, longer across.
int tray_columns(int cells);

/// Draws the maps, as many on a page as fit, each page headed. Gives the titles of maps in which
/// text had to be shortened.
std::vector<std::string> draw_tray_maps(Paper& paper, std::span<const TrayMap> maps,
                                        std::string_view heading);

}  // namespace takehold::client
