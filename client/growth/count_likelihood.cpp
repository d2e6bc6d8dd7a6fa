#include "client/growth/count_likelihood.hpp"

#include <algorithm>
#include <cmath>

#include "client/growth/emergence.hpp"
#include "client/season/normal.hpp"

namespace takehold::client {
namespace {

constexpr double kLeast = 1e-300;  // keeps a logarithm finite where rounding leaves no probability

double log_of(double probability) {
  return std::log(std::max(probability, kLeast));
}

}  // namespace

CountLikelihood::CountLikelihood(const LotSeen& lot)
    : lot_(lot), spread_(emergence_prior(lot.species).seed_spread) {
  for (const SowingSeen& sowing : lot.sowings) {
    if (!sowing.counts.empty()) came_up_ += sowing.counts.back().up;
  }
}

std::vector<double> CountLikelihood::log_by_share(double ln_e) const {
  struct Rest {
    int seeds;        // not up at the last count
    double expected;  // F then
  };
  double increments = 0;
  std::vector<Rest> rests;
  for (const SowingSeen& sowing : lot_.sowings) {
    int before = 0;
    double expected_before = 0;
    for (const CountSeen& count : sowing.counts) {
      const double progress = std::max(sowing.course->progress_at(count.at), kLeast);
      const double expected = normal_below((std::log(progress) - ln_e) / spread_);
      if (count.up > before) {
        increments += (count.up - before) * log_of(expected - expected_before);
      }
      before = count.up;
      expected_before = expected;
    }
    if (!sowing.counts.empty()) rests.push_back({sowing.seeds - before, expected_before});
  }
  const Chance prior = lot_.viability;
  std::vector<double> logs(kShares, log_of(0));
  for (int i = 1; i + 1 < kShares; ++i) {
    const double g = share(i);
    double sum =
        increments + (prior.a - 1 + came_up_) * std::log(g) + (prior.b - 1) * std::log1p(-g);
    for (const Rest& rest : rests) sum += rest.seeds * std::log1p(-g * rest.expected);
    logs[static_cast<std::size_t>(i)] = sum;
  }
  return logs;
}

}  // namespace takehold::client
