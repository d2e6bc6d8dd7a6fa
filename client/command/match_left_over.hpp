// What to do with the stems of the book that a match left over, and why.
#pragma once

#include "client/book/book.hpp"
#include "client/command/match.hpp"

namespace takehold::client {

/// Left-overs that might still be joined: places in the sides of a StemMatch.
struct LeftOverGroup {
  std::vector<std::size_t> rootstocks{};
  std::vector<std::size_t> scions{};
  std::vector<std::size_t> spare{};  ///< scions of pairings that have all they want
  std::vector<MatchShare> shares{};  ///< the pairings that share these rootstocks
};

/// Adds a line for each of the group's stems, as their lots grow where they stand.
void add_left_over(const Book& book, const LeftOverGroup& group, const Tolerance& tolerance,
                   sensors::Instant now, StemMatch& match);

/// The same for stems of files: nothing is known of them, so an average tomato's growth at 22 degC
/// (assumed) is taken, and said.
void add_left_over_of_files(const Tolerance& tolerance, StemMatch& match);

}  // namespace takehold::client
