// Who goes onto whom: the best pairing of measured rootstock and scion stems.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "client/match/tolerance.hpp"

namespace takehold::client {

/// One graft to be made; indices are places in the lists given.
struct StemPair {
  std::size_t rootstock;
  std::size_t scion;
  Micrometres mismatch;  ///< |x - y|

  friend bool operator==(const StemPair&, const StemPair&) = default;
};

/// The answer: every stem is in exactly one pair or in one list of left-overs.
struct Matching {
  std::vector<StemPair> pairs;  ///< by rising place of the rootstock
  std::vector<std::size_t> rootstocks_left_over;
  std::vector<std::size_t> scions_left_over;
  Micrometres mismatch_total = 0;

  std::size_t count() const { return pairs.size(); }
};

/// Most stems a side that match_stems takes: its memory grows with the product of both lists.
inline constexpr std::size_t kMostStems = 10'000;

/// Most pairs first; among those the least sum of mismatch, exactly; among those the most pairs
/// whose two stems fit one clip, within matchings that do not cross when both lists are sorted.
///
/// The lists may be in any order, each diameter from 0 to 1 m. The same lists give the same pairs
/// everywhere. Time and memory are proportional to the number of allowed pairs (2000 by 2000 and
/// 0.2 mm: 1.3 million, a few milliseconds, 1.3 MB), at worst to the product of the lists. Throws
/// Refused "too-many-stems" above kMostStems a side and "bad-diameter" outside 0..1 m.
Matching match_stems(std::span<const Micrometres> rootstocks, std::span<const Micrometres> scions,
                     const Tolerance& tolerance);

/// Only how many pairs match_stems would make, in one walk over both lists, which must be sorted.
std::size_t count_matches(std::span<const Micrometres> sorted_rootstocks,
                          std::span<const Micrometres> sorted_scions, const Tolerance& tolerance);

/// The clip that fits a stem: the nearest of 1.5, 2.0 and 2.5 mm (published clip sizes), the
/// smaller at a tie.
Micrometres clip_size(Micrometres diameter);

/// Refuses "bad-diameter" outside 0..1 m.
void check_diameter(Micrometres um, const char* side);

}  // namespace takehold::client
