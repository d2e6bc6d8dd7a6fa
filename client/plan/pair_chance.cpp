#include "client/plan/pair_chance.hpp"

#include <algorithm>
#include <cmath>

#include "client/plan/counts.hpp"
#include "client/plan/take_tail.hpp"

namespace takehold::client {
namespace {

// Seasons are counted as k/4096, and their sum may fall short of 1 by rounding.
constexpr double kRounding = 1e-9;

double mean_of(const PairSpread& spread, int most, const std::vector<double>& value) {
  double sum = 0;
  for (std::size_t m = 0; m < spread.size(); ++m) {
    const auto made = std::min({m, static_cast<std::size_t>(most), value.size() - 1});
    sum += spread[m] * value[made];
  }
  return sum;
}

std::vector<double> without_first(std::vector<double> values, int count) {
  values.erase(values.begin(), values.begin() + count);
  return values;
}

}  // namespace

PairChance::PairChance(const TakeBelief& take, int want, int most_grafts, GraftsMade made)
    : take_(&take),
      made_(made),
      want_(std::max(0, want - made.taken)),
      most_grafts_(most_grafts),
      tail_(tail_of(want_)) {}

// By new grafts: the pending ones are among those that may take.
std::vector<double> PairChance::tail_of(int want) const {
  return without_first(take_tail(*take_, want, made_.pending + most_grafts_), made_.pending);
}

double PairChance::tail(int grafts) const {
  return tail_[static_cast<std::size_t>(std::clamp(grafts, 0, most_grafts()))];
}

double PairChance::probability(const PairSpread& spread, int most_grafts) const {
  return mean_of(spread, most_grafts, tail_);
}

SampledChance PairChance::sampled(const PairSpread& spread, int most, int seasons) const {
  std::vector<double> squares;
  for (const double t : tail_) squares.push_back(t * t);
  const double mean = mean_of(spread, most, tail_);
  const double variance = std::max(0.0, mean_of(spread, most, squares) - mean * mean);
  return {mean, std::sqrt(variance / seasons)};
}

std::optional<int> PairChance::fewest_grafts(const PairSpread& spread, double confidence) const {
  // P(G+1) - P(G) = P(more than G pairs) * (tail(G+1) - tail(G)).
  double more = 1, sum = 0;
  for (std::size_t g = 0; g < spread.size() && g < tail_.size(); ++g) {
    sum += more * (tail_[g] - (g > 0 ? tail_[g - 1] : 0));
    if (sum >= confidence - kReached) return static_cast<int>(g);
    more -= spread[g];
  }
  return std::nullopt;
}

double PairChance::useful(const PairSpread& spread, int most_grafts) const {
  const auto useful = useful_takes(*take_, want_, made_.pending + most_grafts_);
  return mean_of(spread, most_grafts, without_first(useful, made_.pending));
}

CountOutlook PairChance::finished(const PairSpread& spread, int most_grafts) const {
  CountOutlook outlook;
  std::vector<double> made;
  for (std::size_t m = 0; m < tail_.size(); ++m)
    made.push_back(static_cast<double>(m) + made_.pending);
  outlook.mean = made_.taken + mean_of(spread, most_grafts, made) * take_->mean();
  const int most = made_.pending + std::min(most_grafts, static_cast<int>(spread.size()) - 1);
  // The smallest k with P(at most k finished) at or above the share.
  const auto quantile = [&](double share) {
    int low = -1, high = std::max(0, most);
    while (high - low > 1) {
      const int k = low + (high - low) / 2;
      const auto above = tail_of(k + 1);
      (1 - mean_of(spread, most_grafts, above) >= share - kRounding ? high : low) = k;
    }
    return high;
  };
  outlook.p10 = made_.taken + quantile(0.1);
  outlook.p90 = made_.taken + quantile(0.9);
  return outlook;
}

}  // namespace takehold::client
