#include "client/plan/draw_store.hpp"

#include <algorithm>

namespace takehold::client {

const std::vector<LotLuck>& DrawStore::luck(const LotBelief& lot) {
  const auto [place, is_new] = luck_.try_emplace(lot.key);
  if (is_new) place->second = draw_lot(lot, seed_, seasons_);
  return place->second;
}

const SowingDraws& DrawStore::sowing(const PlannedPart& part, int seeds, bool every_seed) {
  const bool all = every_seed || part.all_stand;
  const auto [place, is_new] =
      sowings_.try_emplace({part.lot.key, part.wave, part.course, all}, part.lot, luck(part.lot),
                           part.wave, all, *part.course, seed_);
  place->second.grow_to(std::min(seeds, StemKey::kMostSeeds));
  return place->second;
}

std::vector<SideSowing> DrawStore::sowings(const SidePlan& side, int seeds, Perfect perfect) {
  const PartCounts counts = side.spread(seeds);
  std::vector<SideSowing> sowings;
  for (std::size_t i = 0; i < side.parts.size(); ++i) {
    const PlannedPart& part = side.parts[i];
    sowings.push_back({&sowing(part, counts[i], perfect.emergence), counts[i], &luck(part.lot),
                       part.course, part.days_to_graft});
  }
  return sowings;
}

SideStems DrawStore::stems(const SidePlan& side, int seeds, std::span<const int> shifts,
                           Perfect perfect) {
  return SideStems(sowings(side, seeds, perfect), shifts, {0, seasons_}, perfect.spread);
}

}  // namespace takehold::client
