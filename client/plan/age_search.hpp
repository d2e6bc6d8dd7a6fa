// How old rootstock and scion should be on the day of the graft: both ages searched together, by
// simulated seasons.
#pragma once

#include <optional>
#include <vector>

#include "client/plan/age_pairs.hpp"
#include "client/plan/draw_store.hpp"
#include "client/plan/match_counter.hpp"

namespace takehold::client {

/// Whole days from sowing to graft; nothing for a side whose parts were fixed.
struct GraftAges {
  std::optional<int> rootstock_days{};
  std::optional<int> scion_days{};
};

/// The ages at which the most pairs are to be expected on the best day of `shifts`. Among those
/// within one paired standard error of the best the ages nearest to equal median diameters are
/// taken, then the younger. Candidates fall out in stages of 128, 512 and 2048 seasons when they
/// are four paired standard errors behind; the rest are compared over all of the store's. Nothing
/// where no middle seedlings of the allowed ages come near a graftable size.
std::optional<GraftAges> search_ages(const AgeSide& rootstock, const AgeSide& scion,
                                     std::vector<int> shifts, const MatchCounter& counter,
                                     DrawStore& store, int seasons);

}  // namespace takehold::client
