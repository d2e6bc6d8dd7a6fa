// A small trial of two ways, laid out over trays.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace takehold::client {

struct TrialPlace {
  int tray = 0;     ///< from 1
  int place = 0;    ///< in the tray, from 1
  int pairing = 0;  ///< index into the pairings given
  int way = 0;      ///< 0 or 1
};

/// `each` grafts of either way for each of `pairings` pairings, in trays of `cells`. Every tray is
/// a block: within it each pairing's two ways stand as even as the count allows, in an order drawn
/// by `seed` (the same on every machine). each, pairings, cells at least 1.
std::vector<TrialPlace> lay_out_trial(int pairings, int each, int cells, std::uint64_t seed);

}  // namespace takehold::client
