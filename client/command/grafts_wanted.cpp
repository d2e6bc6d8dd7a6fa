#include "client/command/grafts_wanted.hpp"

#include <algorithm>

#include "client/command/grafts_made.hpp"
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

GraftsWanted::GraftsWanted(const Book& book, const PlanRequest& plan)
    : book_(book), plan_(plan), takes_(tallies_of(plan)) {}

int GraftsWanted::made(const Pairing& pairing) const {
  const GraftsMade made = made_of(book_, pairing);
  return made.taken + made.pending;
}

TakeBelief GraftsWanted::take(const Pairing& pairing) const {
  const auto own = plan_.takes.find(pairing.names());
  return own == plan_.takes.end() ? takes_.belief_untried() : takes_.belief(own->second);
}

int GraftsWanted::still(const Pairing& pairing) const {
  for (const auto& planned : book_.records<PlannedGraft>()) {
    if (planned.noun.pairing != pairing.id) continue;
    const GraftsMade since = made_in(book_, batches_since(book_, planned));
    return std::max(0, planned.noun.grafts - since.taken - since.pending);
  }
  const int want = std::max(0, pairing.want - made(pairing));
  if (want == 0) return 0;
  const auto tail = take_tail(take(pairing), want, kMostGraftsPerPlant * (want + 1));
  const auto enough = std::find_if(
      tail.begin(), tail.end(), [&](double chance) { return chance >= plan_.season.confidence; });
  return static_cast<int>(enough - tail.begin());
}

}  // namespace takehold::client
