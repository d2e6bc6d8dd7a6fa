// What the plants of one scion gave in one season, grafted and on their own roots.
#pragma once

#include <string>
#include <vector>

#include "client/book/book.hpp"
#include "client/takes/worth.hpp"

namespace takehold::client {

struct ScionCrops {
  std::string scion{};
  Crop grafted{}, own_rooted{};
  std::vector<std::string> doubts{};  ///< sentences: what was left out, what else may be the reason
};

/// The season that something of this instant belongs to: the first that was closed after it, else
/// the one the book holds; "" where there is none.
std::string season_at(const Book& book, sensors::Instant at);

/// Seasons that something was picked in, oldest first.
std::vector<std::string> seasons_picked(const Book& book);

/// Every scion of which something was picked in that season, in the order of the alphabet.
std::vector<ScionCrops> crops_of(const Book& book, const std::string& season);

}  // namespace takehold::client
