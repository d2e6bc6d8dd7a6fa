#include "client/growth/carried_speed.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>
#include <vector>

#include "client/season/normal.hpp"

namespace takehold::client {
namespace {

constexpr LogBelief kPrior{0, 0.20};

// The posterior of a normal mean seen once with precision `seen`: textbook.
LogBelief after(double said, double seen) {
  const double precision = 1 / (kPrior.sd * kPrior.sd) + seen;
  return {said * seen / precision, std::sqrt(1 / precision)};
}

TEST(CarriedSpeed, with_nothing_learned_the_prior_stands) {
  EXPECT_NEAR(carried_over(kPrior, {}).sd, 0.20, 1e-12);
  const std::vector<PastSpeed> idle{{kPrior, 1}};
  EXPECT_NEAR(carried_over(kPrior, idle).mean, 0, 1e-12);
  EXPECT_NEAR(carried_over(kPrior, idle).sd, 0.20, 1e-9);
}

// By hand: a lot known exactly says ln v = 0.3; as an observation of the variety's part its
// variance is the lot's own, .02; a year halves the weight to 25 against the prior's 50:
// mean .3 * 25 / 75 = .1, sd sqrt(1/75 + .02).
TEST(CarriedSpeed, one_lot_of_last_year_by_hand) {
  const std::vector<PastSpeed> past{{after(0.3, 1e12), 1}};
  const LogBelief next = carried_over(kPrior, past);
  EXPECT_NEAR(next.mean, 0.1, 1e-6);
  EXPECT_NEAR(next.sd, std::sqrt(1.0 / 75 + 0.02), 1e-6);
}

TEST(CarriedSpeed, each_year_halves_what_it_weighs) {
  const auto weight = [](double years) {
    const std::vector<PastSpeed> past{{after(0.3, 1e12), years}};
    const LogBelief next = carried_over(kPrior, past);
    return 1 / (next.sd * next.sd - 0.02) - 50;  // precision gained of the variety's part
  };
  EXPECT_NEAR(weight(0), 50, 1e-3);
  EXPECT_NEAR(weight(1), 25, 1e-3);
  EXPECT_NEAR(weight(3), 6.25, 1e-3);
}

// Lots drawn as the model says, the last one predicted from three of this year: 90 % intervals
// hold it 90 times in 100 (4000 draws: sd .005).
TEST(CarriedSpeed, its_intervals_hold_the_next_lot) {
  std::mt19937_64 random(14);
  const auto normal = [&] {
    return normal_quantile((static_cast<double>(random() >> 11) + 0.5) / 9007199254740992.0);
  };
  int held = 0;
  constexpr int kVarieties = 4000;
  for (int i = 0; i < kVarieties; ++i) {
    const double half = std::sqrt(0.02), variety = half * normal();
    std::vector<PastSpeed> past;
    for (int lot = 0; lot < 3; ++lot) {
      past.push_back({after(variety + half * normal() + 0.05 * normal(), 400), 0});
    }
    const LogBelief next = carried_over(kPrior, past);
    held += std::abs(variety + half * normal() - next.mean) < 1.6449 * next.sd;
  }
  EXPECT_NEAR(held / static_cast<double>(kVarieties), 0.90, 0.015);
}

}  // namespace
}  // namespace takehold::client
