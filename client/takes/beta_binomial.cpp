#include "client/takes/beta_binomial.hpp"

#include <algorithm>
#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/special_functions/digamma.hpp>
#include <boost/math/special_functions/trigamma.hpp>
#include <cmath>
#include <map>
#include <utility>

namespace takehold::client {
namespace {

using boost::math::digamma;
using boost::math::trigamma;

constexpr int kMostSteps = 200;
constexpr double kStill = 1e-10;
// Beyond a + b = e^13 the groups differ by less than a thousandth: as good as not at all.
constexpr double kWidest = 13;

using Counted = std::map<std::pair<int, int>, int>;  // (yes, tried) -> groups with these counts

Counted counted(std::span<const Tally> tallies) {
  Counted groups;
  for (const auto [yes, tried] : tallies) {
    if (tried > 0) ++groups[{yes, tried}];
  }
  return groups;
}

struct Slope {
  double a = 0, b = 0;            // of the log likelihood
  double aa = 0, ab = 0, bb = 0;  // and its curvature
};

Slope slope_of(const Counted& groups, Chance c) {
  Slope s;
  const double both = c.a + c.b;
  for (const auto& [counts, times] : groups) {
    const auto [yes, tried] = counts;
    const double common = digamma(both) - digamma(both + tried);
    const double bend = trigamma(both + tried) - trigamma(both);
    s.a += times * (digamma(c.a + yes) - digamma(c.a) + common);
    s.b += times * (digamma(c.b + tried - yes) - digamma(c.b) + common);
    s.aa += times * (trigamma(c.a + yes) - trigamma(c.a) - bend);
    s.bb += times * (trigamma(c.b + tried - yes) - trigamma(c.b) - bend);
    s.ab -= times * bend;
  }
  return s;
}

// One step of Newton's in (ln a, ln b), uphill even where the likelihood is not concave.
std::pair<double, double> step_at(const Counted& groups, Chance c) {
  const Slope s = slope_of(groups, c);
  const double ga = s.a * c.a, gb = s.b * c.b;
  const double haa = -(s.aa * c.a * c.a + ga), hbb = -(s.bb * c.b * c.b + gb);
  const double hab = -s.ab * c.a * c.b;
  const double mean = (haa + hbb) / 2;
  const double half = std::hypot((haa - hbb) / 2, hab);
  // Raise both eigenvalues (mean ± half) above nothing.
  const double lift = std::max(0.0, 1e-6 + 2 * std::max(0.0, half - mean));
  const double pa = haa + lift, pb = hbb + lift;
  const double determinant = pa * pb - hab * hab;
  return {(pb * ga - hab * gb) / determinant, (pa * gb - hab * ga) / determinant};
}

Tally total_of(const Counted& groups) {
  Tally total;
  for (const auto& [counts, times] : groups) {
    total.yes += times * counts.first;
    total.tried += times * counts.second;
  }
  return total;
}

// With one rate for all: the limit of the beta-binomial as a + b grows.
double binomial_log_likelihood(const Counted& groups) {
  const Tally total = total_of(groups);
  const double rate = static_cast<double>(total.yes) / total.tried;
  double sum = 0;
  for (const auto& [counts, times] : groups) {
    const auto [yes, tried] = counts;
    double of_one = log_choose(tried, yes);
    if (yes > 0) of_one += yes * std::log(rate);
    if (yes < tried) of_one += (tried - yes) * std::log1p(-rate);
    sum += times * of_one;
  }
  return sum;
}

double log_likelihood(const Counted& groups, Chance chance) {
  const double base = log_beta(chance.a, chance.b);
  double sum = 0;
  for (const auto& [counts, times] : groups) {
    const auto [yes, tried] = counts;
    sum +=
        times * (log_choose(tried, yes) + log_beta(chance.a + yes, chance.b + tried - yes) - base);
  }
  return sum;
}

}  // namespace

double beta_binomial_log_likelihood(std::span<const Tally> tallies, Chance chance) {
  return log_likelihood(counted(tallies), chance);
}

std::optional<Chance> likeliest_beta(std::span<const Tally> tallies) {
  const Counted groups = counted(tallies);
  const Tally total = total_of(groups);
  if (total.yes == 0 || total.yes == total.tried) return std::nullopt;
  const double rate = static_cast<double>(total.yes) / total.tried;
  double u = std::log(10 * rate), v = std::log(10 * (1 - rate));
  double value = log_likelihood(groups, {std::exp(u), std::exp(v)});
  for (int steps = 0; steps < kMostSteps; ++steps) {
    const auto [du, dv] = step_at(groups, {std::exp(u), std::exp(v)});
    double length = 1 / std::max({1.0, std::abs(du), std::abs(dv)});
    const auto at = [&, du = du, dv = dv](double t) {
      return log_likelihood(groups, {std::exp(u + t * du), std::exp(v + t * dv)});
    };
    while (!(at(length) >= value) && length > 1e-12) length /= 2;
    value = std::max(value, at(length));
    u += length * du;
    v += length * dv;
    if (std::max(u, v) > kWidest) return std::nullopt;
    if (std::max(std::abs(du), std::abs(dv)) < kStill) break;
  }
  return Chance{std::exp(u), std::exp(v)};
}

Scatter scatter_of(std::span<const Tally> tallies) {
  Scatter scatter{static_cast<int>(std::count_if(tallies.begin(), tallies.end(),
                                                 [](const Tally& t) { return t.tried > 0; })),
                  1, 0};
  const auto chance = scatter.groups > 1 ? likeliest_beta(tallies) : std::nullopt;
  if (!chance) return scatter;
  const Counted groups = counted(tallies);
  const double ratio = 2 * (log_likelihood(groups, *chance) - binomial_log_likelihood(groups));
  if (ratio <= 0) return scatter;
  scatter.p = cdf(complement(boost::math::chi_squared_distribution<>(1), ratio)) / 2;
  scatter.rate_sd = std::sqrt(chance->variance());
  return scatter;
}

}  // namespace takehold::client
