// What a living plant cost: seed, cells, the graft, and those that failed.
#pragma once

#include <optional>
#include <set>
#include <string>

#include "client/command/standing.hpp"

namespace takehold::client {

/// In the grower's money. Prices that are missing are named in `missing`: "the price of lot IF-26".
/// Saved seed without a price costs nothing.
std::optional<double> cost_of_seedling(const Book& book, const Sowing& sowing,
                                       std::set<std::string>& missing);

/// The graft and both seedlings, divided by the batch's take rate; none before it is finished, or
/// where none took.
std::optional<double> cost_of_grafted_plant(const Book& book, const BatchState& state,
                                            std::set<std::string>& missing);

}  // namespace takehold::client
