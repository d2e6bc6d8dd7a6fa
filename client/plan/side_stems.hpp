// The stems of one side on some days of every simulated season, thinnest first.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "client/growth/stem.hpp"
#include "client/plan/sowing_draws.hpp"

namespace takehold::client {

/// A stem in 32 bits, ordered by diameter: whole micrometres, which sowing of its side (0..7),
/// which seed of that.
class StemKey {
 public:
  static constexpr int kMostSowings = 8;
  static constexpr int kMostSeeds = 8192;  ///< of one sowing
  static constexpr std::uint32_t kWidest = 0xFFFF;

  StemKey() = default;
  StemKey(std::uint32_t um, std::uint32_t sowing, std::uint32_t seed)
      : bits_(um << 16 | sowing << 13 | seed) {}

  std::uint16_t um() const { return static_cast<std::uint16_t>(bits_ >> 16); }
  std::uint32_t sowing() const { return bits_ >> 13 & 7U; }
  std::uint32_t seed() const { return bits_ & 0x1FFFU; }
  friend bool operator<(StemKey a, StemKey b) { return a.bits_ < b.bits_; }

 private:
  std::uint32_t bits_ = 0;
};

/// One sowing of a side.
struct SideSowing {
  const SowingDraws* draws = nullptr;
  const std::vector<LotLuck>* luck = nullptr;
  const Course* course = nullptr;
  int days_to_graft = 0;  ///< from sowing to the planned graft day
};

/// Diameters of the graftable stems `shift` days after the planned graft day, for each of `shifts`.
class SideStems {
 public:
  /// With `all_graftable` every seed that lives counts, whatever its size and even if not up yet.
  SideStems(std::span<const SideSowing> sowings, std::span<const int> shifts, int seasons,
            bool all_graftable);

  /// `day` is a place in the shifts given.
  std::span<const StemKey> on(int season, std::size_t day) const {
    const Place place = places_[static_cast<std::size_t>(season) * days_ + day];
    return {stems_.data() + place.begin, place.count};
  }

 private:
  struct Place {
    std::uint32_t begin = 0, count = 0;
  };

  std::size_t days_;
  std::vector<StemKey> stems_{};
  std::vector<Place> places_;  // by season and day
};

}  // namespace takehold::client
