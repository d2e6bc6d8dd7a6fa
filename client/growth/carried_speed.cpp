#include "client/growth/carried_speed.hpp"

#include <cassert>
#include <cmath>
#include <optional>

namespace takehold::client {
namespace {

constexpr double kVarietysPart = 0.5;     // of a lot's variance: assumed
constexpr double kKeptAYear = 0.5;        // of the weight: assumed
constexpr double kNothingLearned = 1e-9;  // precision gained, against the prior's: rounding

// What measurements said by themselves, without the prior they were weighed with.
struct Said {
  double value;
  double precision;
};

std::optional<Said> said_in(LogBelief learned, LogBelief prior) {
  assert(learned.sd > 0);
  const double of_prior = 1 / (prior.sd * prior.sd);
  const double of_both = 1 / (learned.sd * learned.sd);
  const double precision = of_both - of_prior;
  if (precision <= kNothingLearned * of_prior) return std::nullopt;
  return Said{(learned.mean * of_both - prior.mean * of_prior) / precision, precision};
}

}  // namespace

LogBelief carried_over(LogBelief prior, std::span<const PastSpeed> past) {
  const double prior_variance = prior.sd * prior.sd;
  const double varietys = kVarietysPart * prior_variance, lots = prior_variance - varietys;
  double precision = 1 / varietys, sum = prior.mean / varietys;
  for (const PastSpeed& one : past) {
    assert(one.years_ago >= 0);
    const auto said = said_in(one.learned, prior);
    if (!said) continue;
    const double weight = std::pow(kKeptAYear, one.years_ago) / (1 / said->precision + lots);
    precision += weight;
    sum += weight * said->value;
  }
  return {sum / precision, std::sqrt(1 / precision + lots)};
}

LogBelief sharpened(LogBelief carried, LogBelief prior, std::span<const PastSpeed> own) {
  double precision = 1 / (carried.sd * carried.sd), sum = carried.mean * precision;
  for (const PastSpeed& one : own) {
    const auto said = said_in(one.learned, prior);
    if (!said) continue;
    const double weight = std::pow(kKeptAYear, one.years_ago) * said->precision;
    precision += weight;
    sum += weight * said->value;
  }
  return {sum / precision, 1 / std::sqrt(precision)};
}

}  // namespace takehold::client
