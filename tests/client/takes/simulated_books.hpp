// Take records drawn from the prior of the model, and how often its intervals hold the truth.
#pragma once

#include <algorithm>
#include <boost/math/distributions/beta.hpp>
#include <cmath>
#include <cstdint>
#include <random>
#include <utility>
#include <vector>

#include "client/takes/take_model.hpp"

namespace takehold::client {

struct Coverage {
  int intervals = 0;
  int held = 0;             ///< truths between the belief's 5 % and 95 % points
  double below_middle = 0;  ///< share of truths below the belief's median
  double share() const { return static_cast<double>(held) / intervals; }
};

/// Each book: 2 to 12 pairings of 1 to 30 grafts. Every truth is drawn by inversion, so the same
/// seed is the same everywhere.
inline Coverage coverage_of_books(int books, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  const auto uniform = [&] {
    return (static_cast<double>(random() >> 11) + 0.5) / 9007199254740992.0;
  };
  const auto up_to = [&](int n) { return 1 + static_cast<int>(uniform() * n); };
  const TakePrior prior;
  Coverage coverage;
  int below = 0;
  for (int book = 0; book < books; ++book) {
    const double u = prior.log_ratio_mean + prior.log_ratio_sd * normal_quantile(uniform());
    const double v = prior.log_weight_mean + prior.log_weight_sd * normal_quantile(uniform());
    const double mean = 1 / (1 + std::exp(-u));
    const Chance common{std::exp(v) * mean, std::exp(v) * (1 - mean)};
    std::vector<double> truths;
    std::vector<Tally> tallies;
    for (int pairings = 1 + up_to(11); pairings > 0; --pairings) {
      truths.push_back(quantile(common, uniform()));
      Tally tally{0, up_to(30)};
      for (int graft = 0; graft < tally.tried; ++graft) tally.yes += uniform() < truths.back();
      tallies.push_back(tally);
    }
    const TakeModel model(tallies);
    for (std::size_t i = 0; i < truths.size(); ++i) {
      const double rank = model.belief(tallies[i]).below(truths[i]);
      ++coverage.intervals;
      coverage.held += 0.05 < rank && rank < 0.95;
      below += rank < 0.5;
    }
  }
  coverage.below_middle = static_cast<double>(below) / coverage.intervals;
  return coverage;
}

}  // namespace takehold::client
