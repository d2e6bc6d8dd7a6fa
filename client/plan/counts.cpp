#include "client/plan/counts.hpp"

#include <algorithm>
#include <boost/math/special_functions/beta.hpp>
#include <cassert>
#include <cmath>

namespace takehold::client {
namespace {

// P(none of n succeeds) = prod (b+i)/(a+b+i), by logarithms for it may be tiny.
double log_none(int n, Chance chance) {
  double sum = 0;
  for (int i = 0; i < n; ++i) sum += std::log((chance.b + i) / (chance.a + chance.b + i));
  return sum;
}

// ln of P(k+1)/P(k).
double log_step(int k, int n, Chance chance) {
  return std::log((n - k) * (chance.a + k) / ((k + 1) * (chance.b + n - k - 1)));
}

// The smallest n >= need with tail(n) >= confidence, for a tail that rises with n.
template <class Tail>
std::optional<int> smallest(int need, double confidence, const Tail& tail) {
  assert(confidence > 0 && confidence < 1);
  if (need <= 0) return 0;
  const double enough = confidence - kReached;
  int low = need - 1;  // fails: fewer than are needed
  int high = need;
  while (tail(high) < enough) {
    low = high;
    high *= 2;
    if (high > kMostCounted) return std::nullopt;
  }
  while (high - low > 1) {
    const int middle = low + (high - low) / 2;
    (tail(middle) < enough ? low : high) = middle;
  }
  return high;
}

}  // namespace

double binomial_tail(int need, int n, double p) {
  if (need <= 0) return 1;
  if (need > n) return 0;
  return boost::math::ibeta(need, n - need + 1.0, p);
}

double beta_binomial_tail(int need, int n, Chance chance) {
  if (need <= 0) return 1;
  if (need > n) return 0;
  double log_p = log_none(n, chance);
  double below = 0;
  for (int k = 0; k < need; ++k) {
    below += std::exp(log_p);
    log_p += log_step(k, n, chance);
  }
  return std::max(0.0, 1 - below);
}

double beta_binomial_tail(int need, int n, const TakeBelief& belief) {
  double tail = 0;
  for (const auto& [weight, chance] : belief.parts()) {
    tail += weight * beta_binomial_tail(need, n, chance);
  }
  return tail;
}

std::optional<int> smallest_binomial(int need, double p, double confidence) {
  return smallest(need, confidence, [&](int n) { return binomial_tail(need, n, p); });
}

std::optional<int> smallest_beta_binomial(int need, Chance chance, double confidence) {
  return smallest(need, confidence, [&](int n) { return beta_binomial_tail(need, n, chance); });
}

std::optional<int> smallest_beta_binomial(int need, const TakeBelief& belief, double confidence) {
  return smallest(need, confidence, [&](int n) { return beta_binomial_tail(need, n, belief); });
}

std::vector<double> beta_binomial_spread(int n, Chance chance) {
  std::vector<double> spread(static_cast<std::size_t>(n) + 1);
  double log_p = log_none(n, chance);
  for (int k = 0; k <= n; ++k) {
    spread[static_cast<std::size_t>(k)] = std::exp(log_p);
    if (k < n) log_p += log_step(k, n, chance);
  }
  return spread;
}

std::vector<double> beta_binomial_spread(int n, const TakeBelief& belief) {
  std::vector<double> spread(static_cast<std::size_t>(n) + 1);
  for (const auto& [weight, chance] : belief.parts()) {
    const auto part = beta_binomial_spread(n, chance);
    for (std::size_t k = 0; k < spread.size(); ++k) spread[k] += weight * part[k];
  }
  return spread;
}

std::vector<double> thinned(std::span<const double> spread, double share) {
  std::vector<double> kept(spread.size());
  if (share >= 1) return {spread.begin(), spread.end()};
  if (share <= 0) {
    kept[0] = 1;
    return kept;
  }
  // Horner in distributions: to "k or more plants" add one kept with probability `share`.
  for (std::size_t k = spread.size(); k-- > 0;) {
    for (std::size_t j = spread.size() - 1 - k; j > 0; --j) {  // its highest power by now
      kept[j] = kept[j] * (1 - share) + kept[j - 1] * share;
    }
    kept[0] = kept[0] * (1 - share) + spread[k];
  }
  return kept;
}

int cells_for(int seeds, int seeds_per_cell) {
  const int each = std::max(1, seeds_per_cell);
  return (seeds + each - 1) / each;
}

}  // namespace takehold::client
