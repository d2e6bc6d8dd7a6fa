#include "client/plan/pair_outlook.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numeric>

#include "client/plan/cheapest.hpp"
#include "client/plan/counts.hpp"

namespace takehold::client {
namespace {

using sensors::Celsius;

Course bench(double day, double night) {
  return Course(
      hourly_from_noon({Celsius::degc(day), Celsius::degc(night), 14}, std::chrono::days(120)));
}

GraftAges ages_at(const Course& course) {
  return choose_ages(course, average_speed(Species::interspecific),
                     average_speed(Species::lycopersicum), [](int) { return true; })
      .value();
}

// UConn Extension IPM: rootstock sown about 3 days before the scion, grafted 17.5-21 days after
// sowing at about 22 degC.
TEST(Ages, rootstock_goes_first_by_about_three_days) {
  const std::pair<double, double> benches[] = {{18, 18}, {20, 20}, {22, 22}, {24, 24}, {24, 20}};
  for (const auto& [day, night] : benches) {
    const GraftAges ages = ages_at(bench(day, night));
    const int offset = ages.rootstock_days - ages.scion_days;
    EXPECT_GE(offset, 2) << day << "/" << night;
    EXPECT_LE(offset, 4) << day << "/" << night;
    EXPECT_NEAR(ages.rootstock.diameter / ages.scion.diameter, 1.0, 0.03);
  }
  const GraftAges ages = ages_at(bench(22, 22));
  EXPECT_GE(ages.scion_days, 18);
  EXPECT_LE(ages.scion_days, 21);
}

TEST(Ages, only_days_that_may_be_sown_are_used_and_cold_has_no_answer) {
  const auto even = [](int days) { return days % 7 == 0 || days % 7 == 1; };
  const auto ages = choose_ages(bench(22, 22), average_speed(Species::interspecific),
                                average_speed(Species::lycopersicum), even);
  ASSERT_TRUE(ages);
  EXPECT_TRUE(even(ages->rootstock_days));
  EXPECT_TRUE(even(ages->scion_days));
  EXPECT_FALSE(choose_ages(bench(9, 9), average_speed(Species::interspecific),
                           average_speed(Species::lycopersicum), [](int) { return true; }));
}

// With nothing lost but seeds that stay dead, the outlook is the product of the two exact tails.
TEST(PairOutlook, equals_the_exact_tails_when_only_viability_limits) {
  const SideOutlook dead_or_alive{Chance{17, 3}, 1, 0.1, 0.1};
  const SideOutlook saved{Chance{14, 6}, 1, 0.1, 0.1};
  const PairOutlook outlook(dead_or_alive, saved, 1.3, INFINITY, Chance{1e12, 1e-3});
  EXPECT_NEAR(outlook.probability({9, 12, 6}, 6),
              beta_binomial_tail(6, 9, Chance{17, 3}) * beta_binomial_tail(6, 12, Chance{14, 6}),
              1e-9);
}

TEST(PairOutlook, equals_the_exact_tail_of_takes_when_stems_abound) {
  const SideOutlook sure{Chance{1e12, 1e-3}, 1, 0.1, 0.1};
  const PairOutlook outlook(sure, sure, 1.0, INFINITY, Chance{8, 2});
  EXPECT_NEAR(outlook.probability({20, 20, 11}, 6), beta_binomial_tail(6, 11, Chance{8, 2}), 1e-9);
}

TEST(PairOutlook, finished_is_the_distribution_that_probability_adds_up) {
  const SideOutlook side{Chance{17, 3}, 0.95, 0.1, 0.12};
  const PairOutlook outlook(side, side, 1.05, 10, Chance{8, 2});
  const PairCounts counts{24, 20, 11};
  const auto spread = outlook.finished(counts);
  ASSERT_EQ(spread.size(), 12u);
  EXPECT_NEAR(std::accumulate(spread.begin(), spread.end(), 0.0), 1.0, 1e-9);
  EXPECT_NEAR(std::accumulate(spread.begin() + 6, spread.end(), 0.0),
              outlook.probability(counts, 6), 1e-9);
}

TEST(PairOutlook, more_seed_never_lowers_the_probability) {
  const SideOutlook side{Chance{17, 3}, 0.95, 0.1, 0.12};
  const PairOutlook outlook(side, side, 1.05, 10, Chance{8, 2});
  double last = 0;
  for (int seeds = 6; seeds < 60; ++seeds) {
    const double now = outlook.probability({seeds, 30, 12}, 6);
    EXPECT_GE(now, last - 1e-12) << seeds;
    last = now;
  }
}

TEST(PairOutlook, wider_tolerance_and_nearer_stems_help) {
  const SideOutlook side{Chance{17, 3}, 1, 0.1, 0.1};
  const PairCounts counts{20, 20, 11};
  const auto probability = [&](double ratio, double tolerance) {
    return PairOutlook(side, side, ratio, tolerance, Chance{8, 2}).probability(counts, 6);
  };
  EXPECT_GT(probability(1.0, 10), probability(1.3, 10) + 0.05);
  EXPECT_GT(probability(1.0, 20), probability(1.0, 5) + 0.05);
}

TEST(PairOutlook, matched_chance_keeps_mean_and_sd) {
  const TakeBelief belief = TakeModel({}).belief_untried();
  const Chance chance = matched_chance(belief);
  EXPECT_NEAR(chance.mean(), belief.mean(), 1e-12);
  EXPECT_NEAR(std::sqrt(chance.variance()), belief.sd(), 1e-12);
}

TEST(Cheapest, is_within_a_twentieth_of_an_exhaustive_scan) {
  const SideOutlook side{Chance{17, 3}, 0.95, 0.1, 0.12};
  const Chance take{8, 2};
  const PairOutlook outlook(side, side, 1.0, 10, take);
  for (const double rootstock_price : {0.1, 0.5}) {
    const UnitPrices prices{rootstock_price, 0.1, 0.05, 0.2, 2};
    const auto found = cheapest_counts(outlook, take, 3, 0.9, prices);
    EXPECT_TRUE(found.reached);
    EXPECT_GE(found.probability, 0.9);
    double cheapest = INFINITY;
    for (int r = 3; r <= 40; ++r) {
      for (int s = 3; s <= 40; ++s) {
        for (int g = 3; g <= 14; ++g) {
          if (prices.cost({r, s, g}) >= cheapest) continue;
          if (outlook.probability({r, s, g}, 3) >= 0.9) cheapest = prices.cost({r, s, g});
        }
      }
    }
    EXPECT_LE(prices.cost(found.counts), 1.05 * cheapest);
  }
}

TEST(Cheapest, says_when_the_confidence_is_out_of_reach) {
  const SideOutlook side{Chance{17, 3}, 1, 0.3, 0.05};
  const Chance take{8, 2};
  const PairOutlook outlook(side, side, 1.5, 2, take);
  const auto found = cheapest_counts(outlook, take, 4, 0.95, {0.5, 0.1, 0.05, 0.2, 2});
  EXPECT_FALSE(found.reached);
  EXPECT_LT(found.probability, 0.95);
  EXPECT_GT(found.probability, 0.0);
}

}  // namespace
}  // namespace takehold::client
