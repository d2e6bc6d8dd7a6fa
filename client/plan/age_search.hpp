// How old rootstock and scion should be on the day of the graft: both ages searched together, by
// simulated seasons.
#pragma once

#include <optional>
#include <vector>

#include "client/plan/draw_store.hpp"
#include "client/plan/match_counter.hpp"

namespace takehold::client {

/// One side of the question.
struct AgeSide {
  SidePlan plan{};          ///< one part, whose days_to_graft is sought; or fixed parts
  int seeds = 0;            ///< to sow of it
  std::vector<int> ages{};  ///< whole days the part may be old; empty: the parts are fixed
};

/// Whole days from sowing to graft; nothing for a side whose parts were fixed.
struct GraftAges {
  std::optional<int> rootstock_days{};
  std::optional<int> scion_days{};
};

/// The ages at which the most pairs are to be expected on the best day of `shifts`. Among those
/// within one paired standard error of the best the ages nearest to equal median diameters are
/// taken, then the younger. Candidates fall out in stages of 128 and 512 seasons when they are
/// four paired standard errors behind; the rest are compared over kAgeSeasons. Nothing
/// where no middle seedlings of the allowed ages come near a graftable size.
inline constexpr int kAgeSeasons = 1024;  ///< a paired difference is sure to 0.05 pairs then

std::optional<GraftAges> search_ages(const AgeSide& rootstock, const AgeSide& scion,
                                     const std::vector<int>& shifts, const MatchCounter& counter,
                                     DrawStore& store);

}  // namespace takehold::client
