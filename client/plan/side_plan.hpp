// One side of a pairing, rootstock or scion: from which sowings its stems come.
#pragma once

#include <array>
#include <cstdint>
#include <limits>
#include <string>
#include <vector>

#include "client/plan/side_stems.hpp"

namespace takehold::client {

inline constexpr int kNoLimit = std::numeric_limits<int>::max();

/// One lot on one day, sown already or to be sown.
struct PlannedPart {
  std::size_t source = 0;  ///< of its seed: a place in the SeedBox
  std::string sowing{};    ///< "S3" of what is sown already
  LotBelief lot{};
  std::uint64_t wave = 0;          ///< tells sowings of one lot apart
  const Course* course = nullptr;  ///< the warmth from its sowing on; outlives the plan
  int days_to_graft = 0;
  int sown = 0;            ///< seeds already in the tray: they cost nothing and always count
  bool all_stand = false;  ///< of those: they were counted standing
  int most = kNoLimit;     ///< seeds to sow at most; 0 for what is sown already
  double price_each = 0;   ///< of its seed
};

/// Seeds of each part that count; parts beyond the side's have 0.
using PartCounts = std::array<int, StemKey::kMostSowings>;

/// How so many more seeds are spread over a side's parts.
struct SidePlan {
  std::vector<PlannedPart> parts{};  ///< at most StemKey::kMostSowings
  bool evenly = false;               ///< waves: one seed each in turn; else each part to its `most`

  /// Nested: a larger n sows at least as many of every part.
  PartCounts spread(int n) const;
  int sown() const;  ///< seeds in trays already
  int most() const;  ///< seeds that can be sown
  /// Of sowing n more: seed, and cells of so many seeds each.
  double cost(int n, double cell_price, int seeds_per_cell) const;
};

}  // namespace takehold::client
