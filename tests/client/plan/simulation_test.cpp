#include "client/plan/simulation.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "client/growth/keyed_random.hpp"
#include "client/plan/counts.hpp"

namespace takehold::client {
namespace {

using sensors::Celsius;

constexpr Chance kSure{1e9, 1e-3};

Course bench() {
  return Course(
      hourly_from_noon({Celsius::degc(22), Celsius::degc(22), 14}, std::chrono::days(120)));
}

SimulationRequest pairing() {
  SimulationRequest request;
  request.rootstock = {1, Species::interspecific, Chance{17, 3}, {{21, 24}}};
  request.scion = {2, Species::lycopersicum, Chance{16, 4}, {{19, 25}}};
  request.grafts = 14;
  request.want = 6;
  request.take = Chance{8, 2};
  request.seasons = 2000;
  return request;
}

SimulationRequest only_viability() {
  SimulationRequest request = pairing();
  request.tolerance = Tolerance::unlimited();
  request.size_limits = false;
  request.take = kSure;
  request.grafts = 1000;
  request.seasons = 4096;
  return request;
}

void expect_within_four_errors(const SimulationResult& found, double exact) {
  const double error = std::sqrt(exact * (1 - exact) / static_cast<double>(found.matched.size()));
  EXPECT_NEAR(found.probability, exact, 4 * error);
}

TEST(KeyedRandom, numbers_are_uniform_normal_and_unlike_their_neighbours) {
  const KeyedRandom random(1);
  constexpr int kDraws = 20000;
  std::vector<int> bins(20);
  double sum = 0, square = 0, neighbours = 0;
  for (std::uint64_t i = 0; i < kDraws; ++i) {
    const double u = random.uniform({1, i});
    ++bins[static_cast<std::size_t>(u * 20)];
    const double z = random.normal({2, i, 7});
    sum += z;
    square += z * z;
    neighbours += z * random.normal({2, i + 1, 7});
  }
  double chi_square = 0;
  for (const int n : bins) chi_square += std::pow(n - kDraws / 20.0, 2) / (kDraws / 20.0);
  EXPECT_LT(chi_square, 43.82);  // R: qchisq(0.999, 19)
  EXPECT_NEAR(sum / kDraws, 0, 4 / std::sqrt(kDraws));
  EXPECT_NEAR(square / kDraws, 1, 4 * std::sqrt(2.0 / kDraws));
  EXPECT_NEAR(neighbours / kDraws, 0, 4 / std::sqrt(kDraws));
  EXPECT_EQ(random.uniform({1, 2}), KeyedRandom(1).uniform({1, 2}));
  EXPECT_NE(random.uniform({1, 2}), KeyedRandom(2).uniform({1, 2}));
}

TEST(Simulation, agrees_with_the_exact_tail_when_one_side_limits) {
  SimulationRequest request = only_viability();
  request.rootstock.waves[0].seeds = 8;
  request.scion.viability = kSure;
  request.scion.waves[0].seeds = 30;
  expect_within_four_errors(simulate(request, bench()), beta_binomial_tail(6, 8, Chance{17, 3}));
}

TEST(Simulation, agrees_with_the_product_of_both_tails_when_both_sides_limit) {
  SimulationRequest request = only_viability();
  request.rootstock.waves[0].seeds = 8;
  request.scion.waves[0].seeds = 9;
  expect_within_four_errors(
      simulate(request, bench()),
      beta_binomial_tail(6, 8, Chance{17, 3}) * beta_binomial_tail(6, 9, Chance{16, 4}));
}

TEST(Simulation, agrees_with_the_exact_tail_of_takes_when_stems_abound) {
  SimulationRequest request = only_viability();
  request.rootstock.viability = request.scion.viability = kSure;
  request.take = Chance{8, 2};
  request.grafts = 9;
  expect_within_four_errors(simulate(request, bench()), beta_binomial_tail(6, 9, Chance{8, 2}));
}

TEST(Simulation, more_seed_never_lowers_any_season) {
  const Course course = bench();
  SimulationRequest request = pairing();
  request.seasons = 300;
  SimulationResult last = simulate(request, course);
  for (int more = 1; more <= 4; ++more) {
    (more % 2 == 0 ? request.rootstock : request.scion).waves[0].seeds += 5;
    const SimulationResult now = simulate(request, course);
    for (std::size_t season = 0; season < now.finished.size(); ++season) {
      EXPECT_GE(now.matched[season], last.matched[season]);
      EXPECT_GE(now.finished[season], last.finished[season]);
    }
    last = now;
  }
  request.rootstock.waves.push_back({24, 6});  // and an earlier wave
  const SimulationResult now = simulate(request, course);
  for (std::size_t season = 0; season < now.finished.size(); ++season) {
    EXPECT_GE(now.finished[season], last.finished[season]);
  }
}

TEST(Simulation, a_better_day_in_a_wider_window_never_hurts_and_ages_matter) {
  const Course course = bench();
  SimulationRequest request = pairing();
  request.window_days = 0;
  const double one_day = simulate(request, course).probability;
  request.window_days = 2;
  const double best_of_five = simulate(request, course).probability;
  EXPECT_GE(best_of_five, one_day);
  request.rootstock.waves[0].days_to_graft = 30;  // far too thick by then
  EXPECT_LT(simulate(request, course).probability, best_of_five - 0.2);
}

TEST(Simulation, the_same_seed_gives_the_same_seasons) {
  const Course course = bench();
  SimulationRequest request = pairing();
  request.seasons = 200;
  const auto first = simulate(request, course);
  EXPECT_EQ(first.finished, simulate(request, course).finished);
  request.seed = 2;
  EXPECT_NE(first.finished, simulate(request, course).finished);
}

}  // namespace
}  // namespace takehold::client
