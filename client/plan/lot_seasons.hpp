// A lot's luck: what it turns out to be in each simulated season.
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

#include "client/growth/lot_knowledge.hpp"
#include "client/growth/stem.hpp"
#include "client/season/words.hpp"

namespace takehold::client {

/// What is believed of one lot.
struct LotBelief {
  std::uint64_t key = 0;  ///< whose luck: the same key meets the same seasons
  Species species = Species::lycopersicum;
  LotKnowledge known{};

  LotSpeed middle_speed() const;
};

/// A key that depends on nothing but the name (FNV-1a), so that another lot in the sheet changes no
/// plan.
std::uint64_t luck_key(std::string_view name);

/// What the lot is in one season.
struct LotLuck {
  double viability = 1;          ///< g
  double emergence = 1;          ///< e: multiplies the time to emergence
  double vigour = 1;             ///< v
  double scatter = kSeedlingSd;  ///< sd of ln s among its seedlings
};

/// The lot in every season, by inversion of numbers keyed by season and lot: from its posterior
/// where it was counted or measured this season, else viability and speeds independently.
std::vector<LotLuck> draw_lot(const LotBelief& belief, std::uint64_t seed, int seasons);

}  // namespace takehold::client
