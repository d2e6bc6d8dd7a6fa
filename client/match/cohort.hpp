// Who goes onto whom when several scions share one rootstock's stems.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "client/match/matching.hpp"

namespace takehold::client {

/// One pairing of the cohort: its scions' stems, and how much its grafts matter.
struct CohortMember {
  std::vector<Micrometres> scions{};
  double weight = 1;          ///< above 0
  std::optional<int> most{};  ///< grafts wanted; nothing: as many as can be had
};

/// One graft to be made; `scion` is a place in its member's list.
struct CohortPair {
  std::size_t rootstock;
  std::size_t member;
  std::size_t scion;
  Micrometres mismatch;

  friend bool operator==(const CohortPair&, const CohortPair&) = default;
};

struct CohortMatching {
  std::vector<CohortPair> pairs{};                           ///< by rising place of the rootstock
  std::vector<int> counts{};                                 ///< pairs of each member
  std::vector<std::size_t> rootstocks_left_over{};           ///< places in the list given
  std::vector<std::vector<std::size_t>> scions_left_over{};  ///< by member
  Micrometres mismatch_total = 0;
};

/// Most stems a side, all members' scions together: seconds where pairings compete for every stem.
inline constexpr std::size_t kMostInCohort = 2000;

/// The greatest sum of weight times pairs, none more than its `most`; so heavier pairings are
/// served first. Those of one weight are served in turn, always the one that has least of what it
/// wants (of its own stems where it wants all). Of all matchings that do this, the least sum of
/// mismatch, and of those the most pairs of one clip; exactly. The same lists, the same pairs.
///
/// Throws Refused as match_stems, "too-many-stems" above kMostInCohort.
CohortMatching match_cohort(std::span<const Micrometres> rootstocks,
                            std::span<const CohortMember> members, const Tolerance& tolerance);

}  // namespace takehold::client
