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
  const Key key{part.lot.key, part.wave, part.course, all};
  const auto place = sowings_.find(key);
  if (place != sowings_.end() && place->second.seeds() >= seeds) return place->second;
  SowingDraws made(part.lot, luck(part.lot), part.wave, std::min(seeds, StemKey::kMostSeeds), all,
                   *part.course, seed_);
  return sowings_.insert_or_assign(key, std::move(made)).first->second;
}

SideStems DrawStore::stems(const SidePlan& side, int seeds, std::span<const int> shifts,
                           Perfect perfect) {
  const PartCounts counts = side.spread(seeds);
  std::vector<SideSowing> sowings;
  for (std::size_t i = 0; i < side.parts.size(); ++i) {
    const PlannedPart& part = side.parts[i];
    sowings.push_back({&sowing(part, counts[i], perfect.emergence), &luck(part.lot), part.course,
                       part.days_to_graft});
  }
  return SideStems(sowings, shifts, seasons_, perfect.spread);
}

}  // namespace takehold::client
