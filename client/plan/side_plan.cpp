#include "client/plan/side_plan.hpp"

#include <algorithm>

#include "client/plan/counts.hpp"

namespace takehold::client {
namespace {

int open_parts(const SidePlan& side) {
  return static_cast<int>(std::count_if(side.parts.begin(), side.parts.end(),
                                        [](const PlannedPart& part) { return part.most > 0; }));
}

}  // namespace

PartCounts SidePlan::spread(int n) const {
  PartCounts counts{};
  const int waves = open_parts(*this);
  int wave = 0;
  int left = n;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    counts[i] = parts[i].sown;
    if (parts[i].most <= 0) continue;
    const int share = evenly ? (n + waves - 1 - wave++) / waves : std::min(left, parts[i].most);
    counts[i] += share;
    left -= share;
  }
  return counts;
}

int SidePlan::sown() const {
  int sum = 0;
  for (const PlannedPart& part : parts) sum += part.sown;
  return sum;
}

int SidePlan::most() const {
  int sum = 0;
  for (const PlannedPart& part : parts) {
    if (part.most > kNoLimit - sum) return kNoLimit;
    sum += part.most;
  }
  return sum;
}

double SidePlan::cost(int n, double cell_price, int seeds_per_cell) const {
  const PartCounts counts = spread(n);
  double sum = 0;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const int fresh = counts[i] - parts[i].sown;
    sum += fresh * parts[i].price_each + cell_price * cells_for(fresh, seeds_per_cell);
  }
  return sum;
}

}  // namespace takehold::client
