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

/// One lot sown once, in so many seasons. Draws are keyed by (season, lot, wave, seed), so a larger
/// sowing holds the same seeds and more: it grows as more are asked for.
class SowingDraws {
 public:
  /// `wave` tells sowings of one lot apart; `every_seed` lets all of them come up. Seeds that do
  /// not come up within the course are left out. `luck` and `course` outlive this.
  SowingDraws(const LotBelief& lot, std::span<const LotLuck> luck, std::uint64_t wave,
              bool every_seed, const Course& course, std::uint64_t seed)
      : lot_(lot),
        luck_(luck),
        wave_(wave),
        every_seed_(every_seed),
        course_(&course),
        seed_(seed) {}

  /// Draws those up to so many that are not yet there.
  void grow_to(int seeds);
  int seeds() const { return seeds_; }
  /// Appends the season's among the first so many seeds.
  void add_in(int season, int seeds, std::vector<DrawnSeed>& into) const;

 private:
  // Seeds from one number up to another.
  struct Block {
    std::vector<DrawnSeed> drawn{};
    std::vector<std::uint32_t> begins{0};  // of each season, and the end
  };

  LotBelief lot_;
  std::span<const LotLuck> luck_;
  std::uint64_t wave_;
  bool every_seed_;
  const Course* course_;
  std::uint64_t seed_;
  int seeds_ = 0;
  std::vector<Block> blocks_{};
};

}  // namespace takehold::client
