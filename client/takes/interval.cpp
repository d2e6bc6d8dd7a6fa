#include "client/takes/interval.hpp"

#include <algorithm>
#include <boost/math/distributions/beta.hpp>
#include <cassert>
#include <cmath>

namespace takehold::client {
namespace {

// Two tables whose chances differ by less than this share are equally likely: the same table seen
// from two sides differs by rounding only (R's fisher.test uses the same).
constexpr double kAlike = 1e-7;

// With the sums of the table held: the chance that k of the successes are a's, and k's range.
double log_table_chance(Tally a, Tally b, int k) {
  const int yes = a.yes + b.yes;
  return log_choose(a.tried, k) + log_choose(b.tried, yes - k) - log_choose(a.tried + b.tried, yes);
}
int fewest(Tally a, Tally b) {
  return std::max(0, a.yes + b.yes - b.tried);
}
int most(Tally a, Tally b) {
  return std::min(a.yes + b.yes, a.tried);
}

}  // namespace

Interval wilson(Tally tally, double confidence) {
  assert(0 <= tally.yes && tally.yes <= tally.tried);
  if (tally.tried == 0) return {0, 1};
  const double z = normal_quantile((1 + confidence) / 2);
  const double n = tally.tried;
  const double share = tally.yes / n;
  const double shrink = 1 + z * z / n;
  const double centre = (share + z * z / (2 * n)) / shrink;
  const double half = z * std::sqrt(share * (1 - share) / n + z * z / (4 * n * n)) / shrink;
  return {tally.yes == 0 ? 0 : centre - half, tally.yes == tally.tried ? 1 : centre + half};
}

Interval newcombe(Tally a, Tally b, double confidence) {
  const Interval of_a = wilson(a, confidence);
  const Interval of_b = wilson(b, confidence);
  if (a.tried == 0 || b.tried == 0) return {-1, 1};
  const double p = static_cast<double>(a.yes) / a.tried;
  const double q = static_cast<double>(b.yes) / b.tried;
  return {p - q - std::hypot(p - of_a.low, of_b.high - q),
          p - q + std::hypot(of_a.high - p, q - of_b.low)};
}

double fisher_two_sided(Tally a, Tally b) {
  const double seen = log_table_chance(a, b, a.yes);
  double sum = 0;
  for (int k = fewest(a, b); k <= most(a, b); ++k) {
    const double chance = log_table_chance(a, b, k);
    if (chance <= seen + kAlike) sum += std::exp(chance);
  }
  return std::min(1.0, sum);
}

double fisher_greater(Tally a, Tally b) {
  double sum = 0;
  for (int k = a.yes; k <= most(a, b); ++k) sum += std::exp(log_table_chance(a, b, k));
  return std::min(1.0, sum);
}

double log_choose(int n, int k) {
  return std::lgamma(n + 1.0) - std::lgamma(k + 1.0) - std::lgamma(n - k + 1.0);
}

double log_beta(double a, double b) {
  return std::lgamma(a) + std::lgamma(b) - std::lgamma(a + b);
}

double quantile(Chance chance, double p) {
  return boost::math::quantile(boost::math::beta_distribution<>(chance.a, chance.b), p);
}

}  // namespace takehold::client
