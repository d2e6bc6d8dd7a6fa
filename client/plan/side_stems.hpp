// The stems of one side on some days of every simulated season, thinnest first.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "client/growth/stem.hpp"
#include "client/plan/sowing_draws.hpp"
#include "client/plan/stem_key.hpp"

namespace takehold::client {

/// One sowing of a side.
struct SideSowing {
  const SowingDraws* draws = nullptr;
  int seeds = 0;  ///< of them; at most those drawn
  const std::vector<LotLuck>* luck = nullptr;
  const Course* course = nullptr;
  int days_to_graft = 0;  ///< from sowing to the planned graft day
};

/// From the first to before the end.
struct SeasonRange {
  int first = 0;
  int end = 0;
};

/// Diameters of the graftable stems `shift` days after the planned graft day, for each of `shifts`.
class SideStems {
 public:
  /// With `all_graftable` every seed that lives counts, whatever its size and even if not up yet.
  SideStems(std::span<const SideSowing> sowings, std::span<const int> shifts, SeasonRange seasons,
            bool all_graftable);

  /// `day` is a place in the shifts given.
  std::span<const StemKey> on(int season, std::size_t day) const {
    const Place place = places_[static_cast<std::size_t>(season - first_) * days_ + day];
    return {stems_.data() + place.begin, place.count};
  }

 private:
  struct Place {
    std::uint32_t begin = 0, count = 0;
  };

  int first_;
  std::size_t days_;
  std::vector<StemKey> stems_{};
  std::vector<Place> places_;  // by season and day
};

}  // namespace takehold::client
