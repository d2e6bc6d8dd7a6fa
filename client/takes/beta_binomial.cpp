#include "client/takes/beta_binomial.hpp"

#include <algorithm>
#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/special_functions/digamma.hpp>
#include <boost/math/special_functions/trigamma.hpp>
#include <cmath>
#include <vector>

namespace takehold::client {
namespace {

using boost::math::digamma;
using boost::math::trigamma;

constexpr int kMostSteps = 200;
constexpr double kStill = 1e-10;
// Beyond a + b = e^13 the groups differ by less than a thousandth: as good as not at all.
constexpr double kWidest = 13;

struct Slope {
  double a = 0, b = 0;            // of the log likelihood
  double aa = 0, ab = 0, bb = 0;  // and its curvature
};

Slope slope_of(std::span<const Tally> tallies, Chance c) {
  Slope s;
  const double both = c.a + c.b;
  for (const auto [yes, tried] : tallies) {
    const double common = digamma(both) - digamma(both + tried);
    const double bend = trigamma(both + tried) - trigamma(both);
    s.a += digamma(c.a + yes) - digamma(c.a) + common;
    s.b += digamma(c.b + tried - yes) - digamma(c.b) + common;
    s.aa += trigamma(c.a + yes) - trigamma(c.a) - bend;
    s.bb += trigamma(c.b + tried - yes) - trigamma(c.b) - bend;
    s.ab -= bend;
  }
  return s;
}

// One step of Newton's in (ln a, ln b), uphill even where the likelihood is not concave.
std::pair<double, double> step_at(std::span<const Tally> tallies, Chance c) {
  const Slope s = slope_of(tallies, c);
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

std::vector<Tally> tried_ones(std::span<const Tally> tallies) {
  std::vector<Tally> kept;
  std::copy_if(tallies.begin(), tallies.end(), std::back_inserter(kept),
               [](const Tally& t) { return t.tried > 0; });
  return kept;
}

Tally total_of(std::span<const Tally> tallies) {
  Tally total;
  for (const auto [yes, tried] : tallies) {
    total.yes += yes;
    total.tried += tried;
  }
  return total;
}

// With one rate for all: the limit of the beta-binomial as a + b grows.
double binomial_log_likelihood(std::span<const Tally> tallies) {
  const Tally total = total_of(tallies);
  const double rate = static_cast<double>(total.yes) / total.tried;
  double sum = 0;
  for (const auto [yes, tried] : tallies) {
    sum += log_choose(tried, yes);
    if (yes > 0) sum += yes * std::log(rate);
    if (yes < tried) sum += (tried - yes) * std::log1p(-rate);
  }
  return sum;
}

}  // namespace

double beta_binomial_log_likelihood(std::span<const Tally> tallies, Chance chance) {
  const double base = log_beta(chance.a, chance.b);
  double sum = 0;
  for (const auto [yes, tried] : tallies) {
    sum += log_choose(tried, yes) + log_beta(chance.a + yes, chance.b + tried - yes) - base;
  }
  return sum;
}

std::optional<Chance> likeliest_beta(std::span<const Tally> all) {
  const auto tallies = tried_ones(all);
  const Tally total = total_of(tallies);
  if (tallies.size() < 2 || total.yes == 0 || total.yes == total.tried) return std::nullopt;
  const double rate = static_cast<double>(total.yes) / total.tried;
  double u = std::log(10 * rate), v = std::log(10 * (1 - rate));
  double value = beta_binomial_log_likelihood(tallies, {std::exp(u), std::exp(v)});
  for (int steps = 0; steps < kMostSteps; ++steps) {
    auto [du, dv] = step_at(tallies, {std::exp(u), std::exp(v)});
    const double longest = std::max({1.0, std::abs(du), std::abs(dv)});
    double length = 1 / longest;
    const auto at = [&](double t) {
      return beta_binomial_log_likelihood(tallies, {std::exp(u + t * du), std::exp(v + t * dv)});
    };
    while (!(at(length) >= value) && length > 1e-12) length /= 2;
    u += length * du;
    v += length * dv;
    value = std::max(value, at(0));
    if (std::max(u, v) > kWidest) return std::nullopt;
    if (std::max(std::abs(du), std::abs(dv)) < kStill) break;
  }
  return Chance{std::exp(u), std::exp(v)};
}

Scatter scatter_of(std::span<const Tally> all) {
  const auto tallies = tried_ones(all);
  Scatter scatter{static_cast<int>(tallies.size()), 1, 0};
  const auto chance = likeliest_beta(tallies);
  if (!chance) return scatter;
  const double ratio = 2 * (beta_binomial_log_likelihood(tallies, *chance) -
                            binomial_log_likelihood(tallies));
  if (ratio <= 0) return scatter;
  scatter.p = cdf(complement(boost::math::chi_squared_distribution<>(1), ratio)) / 2;
  scatter.rate_sd = std::sqrt(chance->variance());
  return scatter;
}

}  // namespace takehold::client
