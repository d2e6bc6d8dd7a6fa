#include "client/plan/count_descent.hpp"

#include <algorithm>

namespace takehold::client {
namespace {

constexpr int kMostSteps = 12;
// Seeds of rootstock and scion more, in steps of a sixtieth: fewer of one, of one for the other,
// and more of one where that saves grafts. Pairs, for two seeds share a cell.
constexpr SeedCounts kMoves[] = {{-1, 0}, {0, -1}, {-1, 1}, {1, -1}, {-2, 0}, {0, -2},
                                 {-2, 2}, {2, -2}, {-1, 2}, {2, -1}, {0, 1},  {1, 0}};

int grain_at(int n) {
  return 1 + n / 60;
}

}  // namespace

// True if `seeds` reach the target for less than the best so far.
bool CountDescent::improve(SeedCounts seeds, double target) {
  const bool are_possible = seeds.rootstock >= 0 && seeds.scion >= 0 &&
                            seeds.rootstock <= limits_.rootstock && seeds.scion <= limits_.scion;
  if (!are_possible) return false;
  const double least = costs_.of(seeds) + costs_.graft() * chance_.want();
  if (best_ && least >= costs_.of(*best_)) return false;
  const auto grafts = chance_.fewest_grafts(seasons_.spread(seeds), target);
  if (!grafts) return false;
  const PairCounts counts{seeds, *grafts};
  if (best_ && costs_.of(counts) >= costs_.of(*best_)) return false;
  best_ = counts;
  return true;
}

bool CountDescent::step(double target) {
  const SeedCounts at = best_->seeds;
  const int rootstock = grain_at(at.rootstock), scion = grain_at(at.scion);
  return std::any_of(std::begin(kMoves), std::end(kMoves), [&](SeedCounts move) {
    return improve({at.rootstock + move.rootstock * rootstock, at.scion + move.scion * scion},
                   target);
  });
}

void CountDescent::grow(SeedCounts from, double target) {
  for (SeedCounts seeds = from; !best_;) {
    const SeedCounts next{std::min(limits_.rootstock, seeds.rootstock + grain_at(seeds.rootstock)),
                          std::min(limits_.scion, seeds.scion + grain_at(seeds.scion))};
    if (next == seeds) return;
    improve(next, target);
    seeds = next;
  }
}

std::optional<PairCounts> CountDescent::cheapest(const std::vector<SeedCounts>& starts,
                                                 double target) {
  best_.reset();
  for (const SeedCounts seeds : starts) improve(seeds, target);
  grow(starts.back(), target);
  if (!best_) return std::nullopt;
  for (int steps = 0; steps < kMostSteps && step(target); ++steps) continue;
  return best_;
}

}  // namespace takehold::client
