// The seeds of one sowing in every simulated season.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "client/growth/warmth.hpp"
#include "client/plan/lot_seasons.hpp"

namespace takehold::client {

/// A seed that comes up. The heat x it has had since then enters its diameter only through
/// exp(-k v x), and x is the heat since sowing less the heat at emergence: so one factor is enough.
struct DrawnSeed {
  float heat_factor;     ///< exp(k v x'), x' the heat from sowing to its emergence
  float ln_size;         ///< ln s_i
  std::uint32_t number;  ///< from 0, as sown
};

/// One lot sown once: so many seeds, in so many seasons. Draws are keyed by (season, lot, wave,
/// seed), so a larger sowing holds the same seeds and more.
class SowingDraws {
 public:
  /// `wave` tells sowings of one lot apart; `every_seed` lets all of them come up. Seeds that do
  /// not come up within the course are left out.
  SowingDraws(const LotBelief& lot, std::span<const LotLuck> luck, std::uint64_t wave, int seeds,
              bool every_seed, const Course& course, std::uint64_t seed);

  int seeds() const { return seeds_; }
  std::span<const DrawnSeed> in(int season) const;

 private:
  int seeds_;
  std::vector<DrawnSeed> drawn_;
  std::vector<std::size_t> begins_;  // of each season, and the end
};

}  // namespace takehold::client
