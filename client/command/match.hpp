// match: who goes onto whom, from two lists of stems.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <span>
#include <string>
#include <vector>

#include "client/match/matching.hpp"
#include "client/terminal/style.hpp"
#include "sensors/quantity/length.hpp"

namespace takehold::client {

/// One side of a match: stems in the order given, with the seedlings' names where they have any.
struct StemSide {
  std::vector<Micrometres> stems;
  std::vector<std::string> names;  ///< "S12-5" and so on; empty when the stems come from a file
};

/// Two sides and the best matching of them.
struct StemMatch {
  StemSide rootstocks;
  StemSide scions;
  Matching matching;
};

std::vector<Micrometres> whole_micrometres(std::span<const sensors::Millimetres> stems);

StemMatch match_sides(StemSide rootstocks, StemSide scions, const Tolerance& tolerance);

/// {pairs, count, mismatch_total_mm, left_over{rootstocks, scions}}: indices from 0, in the order
/// given; named stems carry `rootstock_seedling` and `scion_seedling` as well.
nlohmann::json to_json(const StemMatch& match);

/// A table of the pairs and a line of what is left over.
std::string match_text(const StemMatch& match, const TerminalStyle& style);

}  // namespace takehold::client
