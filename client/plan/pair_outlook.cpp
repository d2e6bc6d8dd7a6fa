// Share of stems matched at ln ratio d of the lots' middles, both populations normal with sd s and
// the tolerance t on the ln scale: by Strassen's theorem 1 - max over x of [F(x) - G(x + t)], and
// the maximum lies midway, so it is 2 Phi(-(|d| - t) / 2s), and 1 for |d| <= t.
#include "client/plan/pair_outlook.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "client/plan/counts.hpp"
#include "client/season/normal.hpp"

namespace takehold::client {
namespace {

constexpr int kNodes = 21;         // of the ratio between lots
constexpr double kSpan = 3.5;      // sd to either side: 0.05 % left out
constexpr double kLeastSd = 1e-6;  // keeps a division defined

// |x - y| <= p/100 (x + y)/2 is |ln x - ln y| <= ln((1 + c)/(1 - c)), c = p/200.
double log_tolerance(double percent) {
  const double c = percent / 200;
  return c < 1 ? std::log((1 + c) / (1 - c)) : INFINITY;
}

double matched_share(double log_ratio, double tolerance, double sd) {
  const double excess = std::abs(log_ratio) - tolerance;
  return excess <= 0 ? 1 : 2 * normal_below(-excess / (2 * std::max(sd, kLeastSd)));
}

}  // namespace

SideOutlook side_outlook(const Course& course, Species species, int days, const Seedling& middle,
                         Chance viability) {
  const EmergenceBelief belief = emergence_prior(species);
  const double slope = StemGrowth{}.sensitivity(middle.heat);
  // d ln(heat) / d ln(emergence factor): coming up later by a percent costs the heat of that time.
  const auto later = course.age_at_progress(belief.multiplier * 1.01);
  const auto sooner = course.age_at_progress(belief.multiplier / 1.01);
  assert(later && sooner);
  const auto lost = course.heat_between(*sooner, std::min(*later, Age(days)));
  const double pull = (lost / middle.heat) / (2 * std::log(1.01));
  SideOutlook side;
  side.viability = viability;
  side.lot_sd = slope * std::hypot(kVigourSd, pull * belief.multiplier_sd);
  side.seedling_sd = std::hypot(kSeedlingSd, slope * pull * belief.seed_spread);
  const double sd = std::hypot(side.lot_sd, side.seedling_sd);
  const Graftable graftable;
  side.graftable = normal_below(std::log(graftable.thickest / middle.diameter) / sd) -
                   normal_below(std::log(graftable.thinnest / middle.diameter) / sd);
  return side;
}

PairOutlook::PairOutlook(SideOutlook rootstock, SideOutlook scion, double middle_ratio,
                         double tolerance_pct, Chance take)
    : rootstock_(rootstock), scion_(scion), take_(take) {
  const double between = std::hypot(rootstock.lot_sd, scion.lot_sd);
  const double within = std::hypot(rootstock.seedling_sd, scion.seedling_sd) / std::sqrt(2.0);
  const double tolerance = log_tolerance(tolerance_pct);
  double total = 0;
  for (int i = 0; i < kNodes; ++i) {
    const double z = kSpan * (2.0 * i / (kNodes - 1) - 1);
    const double weight = std::exp(-z * z / 2);
    total += weight;
    nodes_.push_back(
        {weight, matched_share(std::log(middle_ratio) + z * between, tolerance, within)});
  }
  for (Node& node : nodes_) node.weight /= total;
}

const PairOutlook::Tails& PairOutlook::tails(bool rootstock, int seeds) const {
  const auto [place, is_new] = tails_.try_emplace({rootstock, seeds});
  if (!is_new) return place->second;
  const SideOutlook& side = rootstock ? rootstock_ : scion_;
  const auto standing = beta_binomial_spread(seeds, side.viability);
  for (const Node& node : nodes_) {
    auto tail = thinned(standing, side.graftable * node.matched);
    for (std::size_t k = tail.size() - 1; k-- > 0;) tail[k] += tail[k + 1];
    place->second.push_back(std::move(tail));
  }
  return place->second;
}

// P(at least k grafts made), k = 0..grafts.
std::vector<double> PairOutlook::at_least(const PairCounts& counts) const {
  const Tails& below = tails(true, counts.rootstock_seeds);
  const Tails& above = tails(false, counts.scion_seeds);
  std::vector<double> made(static_cast<std::size_t>(counts.grafts) + 1);
  for (std::size_t i = 0; i < nodes_.size(); ++i) {
    const std::size_t most = std::min({made.size(), below[i].size(), above[i].size()});
    for (std::size_t k = 0; k < most; ++k) {
      made[k] += nodes_[i].weight * below[i][k] * above[i][k];
    }
  }
  return made;
}

double PairOutlook::enough_taken(int grafts, int want) const {
  const auto [place, is_new] = enough_taken_.try_emplace({grafts, want});
  if (is_new) place->second = beta_binomial_tail(want, grafts, take_);
  return place->second;
}

std::vector<double> PairOutlook::finished(const PairCounts& counts) const {
  const auto made = at_least(counts);
  std::vector<double> spread(made.size());
  for (std::size_t m = 0; m < made.size(); ++m) {
    const double exactly = made[m] - (m + 1 < made.size() ? made[m + 1] : 0);
    const auto taken = beta_binomial_spread(static_cast<int>(m), take_);
    for (std::size_t k = 0; k <= m; ++k) spread[k] += exactly * taken[k];
  }
  return spread;
}

double PairOutlook::probability(const PairCounts& counts, int want) const {
  const auto made = at_least(counts);
  double sum = 0;
  for (std::size_t m = 0; m < made.size(); ++m) {
    const double exactly = made[m] - (m + 1 < made.size() ? made[m + 1] : 0);
    if (exactly > 0) sum += exactly * enough_taken(static_cast<int>(m), want);
  }
  return sum;
}

Chance matched_chance(const TakeBelief& belief) {
  const double mean = belief.mean();
  const double sd = belief.sd();
  const double worth = mean * (1 - mean) / (sd * sd) - 1;
  return {mean * worth, (1 - mean) * worth};
}

}  // namespace takehold::client
