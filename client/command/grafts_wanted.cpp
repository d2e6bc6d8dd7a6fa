#include "client/command/grafts_wanted.hpp"

#include <algorithm>

#include "client/command/lot_seen.hpp"
#include "client/plan/take_tail.hpp"
#include "client/season/planned.hpp"

namespace takehold::client {
namespace {

constexpr int kMostGraftsPerPlant = 4;

std::vector<Tally> tallies_of(const PlanRequest& plan) {
  std::vector<Tally> tallies;
  for (const auto& [names, tally] : plan.takes) tallies.push_back(tally);
  return tallies;
}

}  // namespace

GraftsWanted::GraftsWanted(const Book& book, sensors::Instant now, const PlanRequest& plan)
    : book_(book), now_(now), plan_(plan), takes_(tallies_of(plan)) {}

int GraftsWanted::made(const Pairing& pairing) const {
  int living = 0;
  for (const Batch& batch : book_.all<Batch>()) {
    if (batch.pairing != pairing.id || batch.at < now_ - kSeedlingLife) continue;
    const BatchState state = state_of(book_, batch);
    living += state.living() + (state.finish ? state.finish->given : 0);
  }
  return living;
}

TakeBelief GraftsWanted::take(const Pairing& pairing) const {
  const auto own = plan_.takes.find(pairing.names());
  return own == plan_.takes.end() ? takes_.belief_untried() : takes_.belief(own->second);
}

int GraftsWanted::still(const Pairing& pairing) const {
  const int already = made(pairing);
  for (const PlannedGraft& planned : book_.all<PlannedGraft>()) {
    if (planned.pairing == pairing.id) return std::max(0, planned.grafts - already);
  }
  const int want = std::max(0, pairing.want - already);
  if (want == 0) return 0;
  const auto tail = take_tail(take(pairing), want, kMostGraftsPerPlant * (want + 1));
  const auto enough = std::find_if(
      tail.begin(), tail.end(), [&](double chance) { return chance >= plan_.season.confidence; });
  return static_cast<int>(enough - tail.begin());
}

}  // namespace takehold::client
