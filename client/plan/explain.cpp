#include "client/plan/explain.hpp"

#include <algorithm>

#include "client/plan/graft_day.hpp"
#include "client/plan/pairing_draft.hpp"
#include "client/plan/season_basis.hpp"

namespace takehold::client {
namespace {

constexpr int kSeasons = 1024;
constexpr int kDaysBefore = 12, kDaysAfter = 4;
constexpr double kLeastShare = 0.2;  // of the seeds, standing on average

SidePlan side_of(const std::vector<ProposedSowing>& sowings, Day graft_on, SeedBox& box,
                 const Course& course) {
  SidePlan side;
  for (const ProposedSowing& sowing : sowings) {
    PlannedPart part;
    part.source = box.sources_of(sowing.variety, sowing.lot).front();
    part.lot = box.belief(part.source);
    part.wave = side.parts.size();
    part.course = &course;
    part.days_to_graft = static_cast<int>((graft_on - sowing.sow_on).count());
    part.most = sowing.seeds;
    side.parts.push_back(part);
  }
  return side;
}

int seeds_of(const std::vector<ProposedSowing>& sowings) {
  int sum = 0;
  for (const ProposedSowing& sowing : sowings) sum += sowing.seeds;
  return sum;
}

// Stems that would be there even ungrafted: 10, 50 and 90 in 100 of all seasons together.
std::optional<StemBand> band(const SideStems& stems, std::size_t day, int seeds) {
  std::vector<std::uint16_t> um;
  for (int season = 0; season < kSeasons; ++season) {
    for (const StemKey stem : stems.on(season, day)) um.push_back(stem.um());
  }
  if (static_cast<double>(um.size()) < kLeastShare * seeds * kSeasons) return std::nullopt;
  std::sort(um.begin(), um.end());
  const auto at = [&](double share) {
    return um[static_cast<std::size_t>(share * static_cast<double>(um.size() - 1))] / 1000.0;
  };
  return StemBand{at(0.1), at(0.5), at(0.9)};
}

double mean_pairs(PairSeasons seasons, SeedCounts seeds) {
  const PairSpread& spread = seasons.spread(seeds);
  double sum = 0;
  for (std::size_t m = 0; m < spread.size(); ++m) sum += static_cast<double>(m) * spread[m];
  return sum;
}

class Explaining {
 public:
  Explaining(const PlanRequest& request, const PlannedPairing& planned)
      : planned_(planned),
        season_(request),
        box_(request),
        rootstock_(side_of(planned.rootstock_sowings, *planned.graft_on, box_, season_.course())),
        scion_(side_of(planned.scion_sowings, *planned.graft_on, box_, season_.course())),
        seeds_{seeds_of(planned.rootstock_sowings), seeds_of(planned.scion_sowings)} {}

  Explanation explain(const Pairing& pairing) {
    Explanation told;
    std::vector<int> shifts;
    for (int shift = -kDaysBefore; shift <= kDaysAfter; ++shift) shifts.push_back(shift);
    const SideStems below = store_.stems(rootstock_, seeds_.rootstock, shifts, {.spread = true});
    const SideStems above = store_.stems(scion_, seeds_.scion, shifts, {.spread = true});
    for (std::size_t i = 0; i < shifts.size(); ++i) {
      PairSeasons that_day(rootstock_, scion_, {shifts[i]}, season_.basis().counter, store_);
      told.days.push_back({*planned_.graft_on + std::chrono::days(shifts[i]),
                           band(below, i, seeds_.rootstock), band(above, i, seeds_.scion),
                           mean_pairs(std::move(that_day), seeds_)});
    }
    add_seed(pairing, told);
    return told;
  }

 private:
  void add_seed(const Pairing& pairing, Explanation& told) {
    const TakeBelief take = take_of(season_.basis(), pairing);
    const PairChance chance = chance_of(season_.basis(), take, pairing);
    SidePlan open = rootstock_;
    open.parts.back().most = kNoLimit;
    PairSeasons seasons(open, scion_, season_.shifts_around(*planned_.graft_on),
                        season_.basis().counter, store_);
    const int step = std::max(1, seeds_.rootstock / 8);
    for (int seeds = step; seeds <= 2 * seeds_.rootstock; seeds += step) {
      told.by_seed.push_back(
          {seeds, chance.probability(seasons.spread({seeds, seeds_.scion}), planned_.grafts)});
    }
  }

  const PlannedPairing& planned_;
  SeasonBasis season_;
  SeedBox box_;
  SidePlan rootstock_, scion_;
  SeedCounts seeds_;
  DrawStore store_{kPlanSeed, kSeasons};
};

}  // namespace

Explanation explain_pairing(const PlanRequest& request, const PlannedPairing& planned) {
  if (!planned.graft_on || planned.rootstock_sowings.empty() || planned.scion_sowings.empty()) {
    return {};
  }
  for (const Pairing& pairing : request.pairings) {
    if (pairing.scion != planned.scion || pairing.rootstock != planned.rootstock) continue;
    return Explaining(request, planned).explain(pairing);
  }
  return {};
}

}  // namespace takehold::client
