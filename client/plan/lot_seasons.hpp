// A lot's luck: what it turns out to be in each simulated season.
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

#include "client/season/chance.hpp"
#include "client/season/words.hpp"

namespace takehold::client {

/// What is believed of one lot before it is sown.
struct LotBelief {
  std::uint64_t key = 0;  ///< whose luck: the same key meets the same seasons
  Species species = Species::lycopersicum;
  Chance viability{};
};

/// A key that depends on nothing but the name (FNV-1a), so that another lot in the sheet changes no
/// plan.
std::uint64_t luck_key(std::string_view name);

/// What the lot is in one season.
struct LotLuck {
  double viability = 1;  ///< g
  double emergence = 1;  ///< e: multiplies the time to emergence
  double vigour = 1;     ///< v
};

/// The lot in every season, drawn from the belief by inversion of numbers keyed by season and lot.
std::vector<LotLuck> draw_lot(const LotBelief& belief, std::uint64_t seed, int seasons);

}  // namespace takehold::client
