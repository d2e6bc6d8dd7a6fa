// Which seedling of which sowing stands in which cell: sowings of one day share their trays.
#pragma once

#include <string>
#include <vector>

#include "client/book/book.hpp"
#include "client/season/sowing.hpp"

namespace takehold::client {

/// Seeds of one cell: numbers of the sowing's seedlings, 5 of "S12-5".
struct SownCell {
  std::string sowing{};
  int first_seed = 1;
  int seeds = 0;
};

struct SownTray {
  int number = 1;  ///< among those of its day and place
  int of = 1;
  std::vector<SownCell> cells{};  ///< from the first on; fewer than the tray has: the rest is empty
  bool holds(const std::string& sowing) const;
};

/// Trays of everything sown on that sowing's day that stands where it stands, laid out as the plan
/// lays them out: no cell holds two lots, a lot's cells follow each other.
std::vector<SownTray> trays_beside(const Book& book, const Sowing& sowing);

}  // namespace takehold::client
