#include "client/plan/count_search.hpp"

#include <algorithm>

#include "client/plan/counts.hpp"

namespace takehold::client {
namespace {

constexpr int kPatience = 2;    // rows in a direction without getting cheaper
constexpr double kSpent = 1.5;  // grafts' worth of scion seed in a row without getting cheaper

// From row to row: one by one while counts are small, else by a sixteenth.
int step_at(int n) {
  return 1 + n / 16;
}

// How closely the fewest seeds are sought: to the seed while counts are small, else to a sixtieth.
int grain_at(int n) {
  return 1 + n / 60;
}

}  // namespace

double CountCosts::of(SeedCounts seeds) const {
  return rootstock_->cost(seeds.rootstock, prices_.cell, prices_.seeds_per_cell) +
         scion_->cost(seeds.scion, prices_.cell, prices_.seeds_per_cell);
}

double CountCosts::of(const PairCounts& counts) const {
  return of(counts.seeds) + prices_.graft * counts.grafts;
}

bool CountSearch::reaches(SeedCounts seeds, double target) {
  return chance_.fewest_grafts(seasons_.spread(seeds), target).has_value();
}

std::optional<SeedCounts> CountSearch::begin(double target) {
  const auto& [least, most] = window_;
  for (int n = fewest_grafts_;; n += std::max(1, n / 4)) {
    const SeedCounts seeds{
        std::clamp(n - costs_.rootstock().sown(), least.rootstock, most.rootstock),
        std::clamp(n - costs_.scion().sown(), least.scion, most.scion)};
    if (reaches(seeds, target)) return seeds;
    if (seeds == most) return std::nullopt;
  }
}

// Beyond this many scion seeds a row cannot become the cheapest.
int CountSearch::most_worth_trying(int rootstock) const {
  if (!best_) return window_.most.scion;
  const double left = best_->cost - costs_.graft() * fewest_grafts_;
  int fits = window_.least.scion - 1, above = window_.most.scion + 1;
  while (above - fits > 1) {
    const int middle = fits + (above - fits) / 2;
    (costs_.of(SeedCounts{rootstock, middle}) < left ? fits : above) = middle;
  }
  return fits;
}

std::optional<int> CountSearch::fewest_scions(int rootstock, int near, double target) {
  const int least = window_.least.scion, most = most_worth_trying(rootstock);
  if (most < least) return std::nullopt;
  near = std::clamp(near, least, most);
  int fails = least - 1, holds = near, step = grain_at(near);
  if (reaches({rootstock, near}, target)) {
    for (; holds > least; step *= 2) {
      const int lower = std::max(least, holds - step);
      if (!reaches({rootstock, lower}, target)) {
        fails = lower;
        break;
      }
      holds = lower;
    }
  } else {
    fails = near;
    for (;; step *= 2) {
      if (fails >= most) return std::nullopt;
      holds = std::min(most, fails + step);
      if (reaches({rootstock, holds}, target)) break;
      fails = holds;
    }
  }
  while (holds - fails > grain_at(holds)) {
    const int middle = fails + (holds - fails) / 2;
    (reaches({rootstock, middle}, target) ? holds : fails) = middle;
  }
  return holds;
}

// Tries a number of rootstock seeds; `scions` becomes the fewest that can do. True if that made the
// best cheaper.
bool CountSearch::try_row(int rootstock, int& scions, double target) {
  const auto fewest = fewest_scions(rootstock, scions, target);
  if (!fewest) return false;
  scions = *fewest;
  bool cheaper = false;
  double given_up_at = costs_.of(SeedCounts{rootstock, scions}) + kSpent * costs_.graft();
  for (int n = scions; n <= window_.most.scion; n += 1 + n / 30) {
    const SeedCounts seeds{rootstock, n};
    const double seed_cost = costs_.of(seeds);
    if (seed_cost > given_up_at) break;
    if (best_ && seed_cost + costs_.graft() * fewest_grafts_ >= best_->cost) break;
    const int grafts = chance_.fewest_grafts(seasons_.spread(seeds), target).value();
    const double cost = seed_cost + costs_.graft() * grafts;
    if (best_ && cost >= best_->cost) continue;
    best_ = Best{{seeds, grafts}, cost};
    cheaper = true;
    given_up_at = seed_cost + kSpent * costs_.graft();
  }
  return cheaper;
}

void CountSearch::walk(SeedCounts from, int direction, double target) {
  int scions = from.scion;
  int without = 0;
  for (int n = from.rootstock; has_row(n) && without < kPatience; n += direction * step_at(n)) {
    without = try_row(n, scions, target) ? 0 : without + 1;
  }
}

void CountSearch::walk_both_ways(SeedCounts from, double target) {
  walk(from, 1, target);
  walk({from.rootstock - 1, from.scion}, -1, target);
}

std::optional<PairCounts> CountSearch::cheapest(double target, std::optional<SeedCounts> near) {
  best_.reset();
  fewest_grafts_ = chance_.want();
  while (fewest_grafts_ < chance_.most_grafts() &&
         chance_.tail(fewest_grafts_) < target - kReached) {
    ++fewest_grafts_;
  }
  if (near) walk_both_ways(*near, target);
  if (!best_) {
    const auto from = begin(target);
    if (!from) return std::nullopt;
    walk_both_ways(*from, target);
  }
  // Steps may have jumped over the best row.
  for (int step = step_at(best_->counts.seeds.rootstock) / 2; step > 0; step /= 2) {
    const SeedCounts found = best_->counts.seeds;
    for (const int n : {found.rootstock - step, found.rootstock + step}) {
      int scions = found.scion;
      if (has_row(n)) try_row(n, scions, target);
    }
  }
  return best_->counts;
}

}  // namespace takehold::client
