// The want-th success falls on the n-th graft with the beta negative binomial probability f(n), and
// at least `want` of g take when it falls on or before g:
//   f(w) = prod_{i<w} (a+i)/(a+b+i),   f(n+1)/f(n) = n/(n-w+1) * (b+n-w)/(a+b+n).
//
// One graft more is useful when it takes and fewer than `want` of the g before it did; that it
// takes, with a/(a+b), makes the belief about those Beta(a+1, b).
#include "client/plan/take_tail.hpp"

namespace takehold::client {
namespace {

void add_falls(const TakeBelief::Part& part, int want, std::vector<double>& falls) {
  const auto [a, b] = part.chance;
  double f = part.weight;
  for (int i = 0; i < want; ++i) f *= (a + i) / (a + b + i);
  for (int n = want; n < static_cast<int>(falls.size()); ++n) {
    falls[static_cast<std::size_t>(n)] += f;
    f *= n / (n - want + 1.0) * (b + n - want) / (a + b + n);
  }
}

}  // namespace

std::vector<double> take_tail(const TakeBelief& belief, int want, int most) {
  std::vector<double> tail(static_cast<std::size_t>(most) + 1, want <= 0 ? 1.0 : 0.0);
  if (want <= 0) return tail;
  for (const auto& part : belief.parts()) add_falls(part, want, tail);
  for (std::size_t g = 1; g < tail.size(); ++g) tail[g] += tail[g - 1];
  return tail;
}

std::vector<double> useful_takes(const TakeBelief& belief, int want, int most) {
  std::vector<TakeBelief::Part> parts;
  double mean = 0;
  for (const auto& [weight, chance] : belief.parts()) {
    parts.push_back({weight * chance.mean(), {chance.a + 1, chance.b}});
    mean += parts.back().weight;
  }
  const auto enough = take_tail(TakeBelief(std::move(parts)), want, most);
  std::vector<double> useful(enough.size());
  if (want <= 0) return useful;
  for (std::size_t g = 1; g < useful.size(); ++g) {
    useful[g] = useful[g - 1] + mean - enough[g - 1];
  }
  return useful;
}

}  // namespace takehold::client
