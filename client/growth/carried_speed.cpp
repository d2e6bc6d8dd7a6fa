#include "client/growth/carried_speed.hpp"

#include <cassert>
#include <cmath>

namespace takehold::client {
namespace {

constexpr double kVarietysPart = 0.5;     // of a lot's variance: assumed
constexpr double kKeptAYear = 0.5;        // of the weight: assumed
constexpr double kNothingLearned = 1e-9;  // precision gained, against the prior's: rounding

}  // namespace

LogBelief carried_over(LogBelief prior, std::span<const PastSpeed> past) {
  const double prior_variance = prior.sd * prior.sd;
  const double varietys = kVarietysPart * prior_variance, lots = prior_variance - varietys;
  double precision = 1 / varietys, sum = prior.mean / varietys;
  for (const PastSpeed& one : past) {
    assert(one.years_ago >= 0 && one.learned.sd > 0);
    // What the lot's data alone said: its posterior with the prior taken out again.
    const double gained = 1 / (one.learned.sd * one.learned.sd) - 1 / prior_variance;
    if (gained <= kNothingLearned / prior_variance) continue;
    const double said =
        (one.learned.mean / (one.learned.sd * one.learned.sd) - prior.mean / prior_variance) /
        gained;
    const double weight = std::pow(kKeptAYear, one.years_ago) / (1 / gained + lots);
    precision += weight;
    sum += weight * said;
  }
  return {sum / precision, std::sqrt(1 / precision + lots)};
}

}  // namespace takehold::client
