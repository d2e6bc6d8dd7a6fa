// The stems of a sowing that fewer seeds would have given.
#pragma once

#include <span>
#include <vector>

#include "client/plan/side_plan.hpp"

namespace takehold::client {

/// Diameters, in their order, of the stems whose seed is among the first `counts` of its sowing.
inline void keep_stems(std::span<const StemKey> stems, const PartCounts& counts,
                       std::vector<std::uint16_t>& kept) {
  kept.resize(stems.size());
  std::size_t n = 0;
  for (const StemKey stem : stems) {
    kept[n] = stem.um();
    n += stem.seed() < static_cast<std::uint32_t>(counts[stem.sowing()]) ? 1 : 0;
  }
  kept.resize(n);
}

}  // namespace takehold::client
