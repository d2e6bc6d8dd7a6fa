#include "client/takes/power.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <vector>

#include "client/takes/interval.hpp"
#include "client/takes/table.hpp"

namespace takehold::client {
namespace {

constexpr double kTie = 1e-7;  // as in fisher_two_sided

std::vector<double> log_factorials(int most) {
  std::vector<double> list(static_cast<std::size_t>(most) + 1, 0.0);
  for (std::size_t i = 1; i < list.size(); ++i) {
    list[i] = list[i - 1] + std::log(static_cast<double>(i));
  }
  return list;
}

std::vector<double> binomial(int n, double p, const std::vector<double>& factorial) {
  std::vector<double> mass;
  for (int k = 0; k <= n; ++k) {
    const auto at = [&](int i) { return factorial[static_cast<std::size_t>(i)]; };
    const double ways = at(n) - at(k) - at(n - k);
    const double log_yes = k == 0 ? 0 : k * std::log(p);
    const double log_no = k == n ? 0 : (n - k) * std::log1p(-p);
    mass.push_back(std::exp(ways + log_yes + log_no));
  }
  return mass;
}

// For one sum of successes: which counts of the first side Fisher's test calls different. The
// hypergeometric mass is smallest in both tails, so tables are taken from the unlikeliest up.
std::vector<int> telling_counts(int each, int total, double level,
                                const std::vector<double>& factorial) {
  const auto at = [&](int i) { return factorial[static_cast<std::size_t>(i)]; };
  std::vector<std::pair<double, int>> tables;
  const int low = std::max(0, total - each), high = std::min(total, each);
  const double all = at(2 * each) - at(total) - at(2 * each - total);
  for (int k = low; k <= high; ++k) {
    const int other = total - k;
    tables.emplace_back(2 * at(each) - at(k) - at(each - k) - at(other) - at(each - other) - all,
                        k);
  }
  std::sort(tables.begin(), tables.end());
  std::vector<int> telling;
  double sum = 0;
  for (std::size_t i = 0; i < tables.size();) {
    std::size_t end = i;
    while (end < tables.size() && tables[end].first <= tables[i].first + kTie) {
      sum += std::exp(tables[end++].first);
    }
    if (sum > level) break;
    for (; i < end; ++i) telling.push_back(tables[i].second);
  }
  return telling;
}

}  // namespace

double fisher_power(int each, double p, double q, double level) {
  assert(each >= 1 && each <= kMostExact);
  const auto factorial = log_factorials(2 * each);
  const auto of_p = binomial(each, p, factorial);
  const auto of_q = binomial(each, q, factorial);
  double power = 0;
  for (int total = 0; total <= 2 * each; ++total) {
    for (const int k : telling_counts(each, total, level, factorial)) {
      power += of_p[static_cast<std::size_t>(k)] * of_q[static_cast<std::size_t>(total - k)];
    }
  }
  return power;
}

std::optional<int> trials_for_power(double p, double q, double power, double level) {
  if (std::abs(p - q) < 1e-9) return std::nullopt;
  // With correction for continuity the normal formula comes within a few of Fisher's test
  // (Casagrande, Pike & Smith 1978); start a little below. Power saws up and down by parts of a
  // percent as trials are added: the first that reaches it is it.
  const double plain = trials_needed_each(p, q, power, level);
  const double corrected =
      plain / 4 * std::pow(1 + std::sqrt(1 + 4 / (plain * std::abs(p - q))), 2);
  const int start = std::max(1, static_cast<int>(corrected * 0.9) - 2);
  for (int each = start; each <= kMostExact; ++each) {
    if (fisher_power(each, p, q, level) >= power) return each;
  }
  return std::nullopt;
}

}  // namespace takehold::client
