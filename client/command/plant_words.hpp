// How a plant is called on labels, maps and sheets.
#pragma once

#include <string>

#include "client/book/book.hpp"
#include "client/season/seed.hpp"

namespace takehold::client {

/// "tomato, pole (indeterminate), beefsteak": what a grower writes on a label beside the name.
std::string plant_kind(const std::optional<Variety>& variety);

/// "Quarry Pink", the variety a sowing's lot is of; the lot's label if the book has lost it.
std::string variety_of_lot(const Book& book, const std::string& lot);

/// Trays that hold `cells`, of `cells_per_tray` each.
int trays_for(int cells, int cells_per_tray);

}  // namespace takehold::client
