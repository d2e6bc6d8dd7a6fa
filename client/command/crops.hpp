// What the plants of one scion gave in one season, grafted and on their own roots.
#pragma once

#include <string>
#include <vector>

#include "client/book/book.hpp"
#include "client/season/season.hpp"
#include "client/takes/worth.hpp"

namespace takehold::client {

struct ScionCrops {
  std::string scion{};
  Crop grafted{}, own_rooted{};
  std::vector<std::string> doubts{};  ///< sentences: what was left out, what else may be the reason
};

/// Which season something belongs to. The book is read once, when this is made.
class SeasonCalendar {
 public:
  explicit SeasonCalendar(const Book& book);
  /// The first that was closed at or after that instant, else the one the book holds; "" where
  /// there is none.
  const std::string& at(sensors::Instant at) const;

 private:
  std::vector<SeasonClose> closes_;  ///< oldest first
  std::string open_{};
};

/// Seasons that something was picked in, oldest first.
std::vector<std::string> seasons_picked(const Book& book);

/// Every scion of which something was picked in that season, in the order of the alphabet.
std::vector<ScionCrops> crops_of(const Book& book, const std::string& season);

}  // namespace takehold::client
