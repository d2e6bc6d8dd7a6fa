#include "client/growth/lot_posterior.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "client/growth/emergence.hpp"
#include "client/season/normal.hpp"
#include "client/growth/stem_reading.hpp"
#include "tests/client/growth/lot_coverage.hpp"

namespace takehold::client {
namespace {

using sensors::Celsius;
using sensors::Millimetres;

constexpr SteadyBench kBench = kSteadyBenches[0];  // 20 degC, 8 days

LotSeen lot_of(SowingSeen sowing) {
  const BenchCycle cycle{Celsius::degc(kBench.degc), Celsius::degc(kBench.degc), 14};
  sowing.course = std::make_shared<Course>(hourly_from_noon(cycle, std::chrono::days(60)));
  return {Species::lycopersicum, Chance{16, 4}, {std::move(sowing)}};
}

SowingSeen measured(std::initializer_list<double> mm, double age) {
  SowingSeen sowing;
  sowing.seeds = 20;
  int number = 0;
  for (const double d : mm) {
    sowing.seedlings.push_back({++number, {{Age(age), Millimetres::mm(d)}}});
  }
  return sowing;
}

TEST(LotPosterior, without_records_it_is_the_prior) {
  const LotPosterior posterior(lot_of({}));
  EXPECT_NEAR(posterior.viability().mean(), 0.8, 1e-4);
  EXPECT_NEAR(posterior.viability().sd(), std::sqrt(0.8 * 0.2 / 21), 1e-4);
  EXPECT_NEAR(posterior.ln_emergence().mean(), 0, 1e-6);
  EXPECT_NEAR(posterior.ln_emergence().sd(), 0.15, 0.0015);
  EXPECT_NEAR(posterior.ln_vigour().sd(), 0.20, 0.0020);
  EXPECT_NEAR(posterior.ln_scatter().mean(), std::log(0.10), 1e-6);
  EXPECT_NEAR(posterior.ln_emergence().quantile(0.95), 0.15 * 1.6449, 0.003);
  EXPECT_NEAR(posterior.correlation(), 0, 1e-6);
}

// Three weeks at 20 degC: whatever lives is up, and what is left is the Beta posterior.
TEST(LotPosterior, a_late_count_is_a_germination_test) {
  SowingSeen sowing;
  sowing.seeds = 30;
  sowing.counts = {{Age(21), 21}};
  const LotPosterior posterior(lot_of(sowing));
  const Chance exact = Chance{16, 4}.after(21, 30);
  EXPECT_NEAR(posterior.viability().mean(), exact.mean(), 2e-4);
  EXPECT_NEAR(posterior.viability().sd(), std::sqrt(exact.variance()), 2e-4);
}

// The multinomial of the counts, summed on a grid that has nothing to do with the program's.
TEST(LotPosterior, counts_agree_with_a_plain_sum_over_the_multinomial) {
  SowingSeen sowing;
  sowing.seeds = 24;
  sowing.counts = {{Age(7), 3}, {Age(8), 9}, {Age(10), 15}};
  double total = 0, g_sum = 0, g_square = 0, e_sum = 0, e_square = 0;
  for (double x = -0.75; x <= 0.75; x += 0.005) {
    const auto up = [&](double age) { return normal_below((std::log(age / 8) - x) / 0.15); };
    const double f1 = up(7), f2 = up(8), f3 = up(10);
    for (double g = 0.002; g < 1; g += 0.002) {
      const double density = std::pow(g, 15 + 15) * std::pow(1 - g, 3) * std::pow(f1, 3) *
                             std::pow(f2 - f1, 6) * std::pow(f3 - f2, 6) * std::pow(1 - g * f3, 9) *
                             std::exp(-0.5 * x * x / (0.15 * 0.15));
      total += density;
      g_sum += density * g;
      g_square += density * g * g;
      e_sum += density * x;
      e_square += density * x * x;
    }
  }
  const double g_mean = g_sum / total, g_sd = std::sqrt(g_square / total - g_mean * g_mean);
  const double e_mean = e_sum / total, e_sd = std::sqrt(e_square / total - e_mean * e_mean);
  const LotPosterior posterior(lot_of(sowing));
  EXPECT_NEAR(posterior.viability().mean(), g_mean, 0.01 * g_sd);
  EXPECT_NEAR(posterior.viability().sd(), g_sd, 0.01 * g_sd);
  EXPECT_NEAR(posterior.ln_emergence().mean(), e_mean, 0.01 * e_sd);
  EXPECT_NEAR(posterior.ln_emergence().sd(), e_sd, 0.01 * e_sd);
}

TEST(LotPosterior, one_session_fixes_one_combination_and_counts_part_it) {
  SowingSeen sowing = measured({1.75, 1.85, 1.9, 1.95, 2.0, 2.0, 2.05, 2.1, 2.2, 2.3}, 22);
  const LotPosterior stems(lot_of(sowing));
  EXPECT_GT(stems.correlation(), 0.7);  // later up is as good as slower
  sowing.counts = {{Age(7), 6}, {Age(8), 9}, {Age(9), 12}, {Age(12), 15}};
  const LotPosterior both(lot_of(sowing));
  EXPECT_LT(both.ln_vigour().sd(), 0.8 * stems.ln_vigour().sd());
}

TEST(LotPosterior, the_same_seedlings_read_twice_are_not_twice_as_many) {
  const auto sd_with = [](int seedlings, int times) {
    SowingSeen sowing;
    sowing.seeds = 30;
    sowing.counts = {{Age(7), 6}, {Age(8), 12}, {Age(9), 18}, {Age(14), 24}};
    for (int i = 0; i < seedlings; ++i) {
      SeedlingSeen seedling{i + 1, {}};
      const double mm = 2.0 * std::exp(0.1 * normal_quantile((i % 6 + 0.5) / 6));
      for (int k = 0; k < times; ++k) seedling.readings.push_back({Age(22), Millimetres::mm(mm)});
      sowing.seedlings.push_back(seedling);
    }
    return LotPosterior(lot_of(sowing)).ln_vigour().sd();
  };
  const double once = sd_with(6, 1);
  const double as_many_more = sd_with(12, 1);
  EXPECT_GT(once - as_many_more, 0.12 * once);
  EXPECT_LT(once - sd_with(6, 2), 0.5 * (once - as_many_more));  // only the reading is surer
}

// sd of ln D of one more reading: the lot, the seedling, its emergence and the calliper together.
double total_sd(const LotPosterior& posterior, Age at) {
  LotWorld world(11);
  double sum = 0, square = 0;
  constexpr int kDraws = 4000;
  for (int i = 0; i < kDraws; ++i) {
    const LotDraw lot = posterior.draw(
        {world.uniform(), world.uniform(), world.uniform(), world.uniform(), world.uniform()});
    const TrueLot known{1, lot.ln_emergence, lot.ln_vigour, lot.scatter};
    const LotWorld::Plant plant{kBench.days * std::exp(lot.ln_emergence + 0.15 * world.normal()),
                                std::exp(lot.scatter * world.normal())};
    const double ln_mm =
        std::log(LotWorld::diameter(known, kBench, plant, at.count())) + 0.025 * world.normal();
    sum += ln_mm / kDraws;
    square += ln_mm * ln_mm / kDraws;
  }
  return std::sqrt(square - sum * sum);
}

TEST(LotPosterior, a_reading_five_total_sd_off_moves_the_lot_by_a_tenth_of_its_sd_at_most) {
  SowingSeen sowing = measured({1.9, 2.0, 2.1}, 22);
  const LotPosterior good(lot_of(sowing));
  const double far = 5 * total_sd(good, Age(22));
  for (const double sign : {-1.0, 1.0}) {
    SowingSeen spoilt = sowing;
    spoilt.seedlings.push_back({4, {{Age(22), Millimetres::mm(2.0 * std::exp(sign * far))}}});
    const LotPosterior with(lot_of(spoilt));
    EXPECT_LT(std::abs(with.ln_vigour().mean() - good.ln_vigour().mean()),
              0.1 * good.ln_vigour().sd());
    EXPECT_LT(std::abs(with.ln_emergence().mean() - good.ln_emergence().mean()),
              0.1 * good.ln_emergence().sd());
  }
}

TEST(LotPosterior, one_reading_is_learnt_exactly_as_the_mixture_says) {
  SizeBelief belief{1, 0, 0.01};
  learn_size(belief, std::log(2.3), std::log(2.0));
  const double total = 0.01 + 0.025 * 0.025;
  const double off = std::log(2.3 / 2.0);
  const double right = 0.95 * std::exp(-off * off / (2 * total)) / std::sqrt(2 * M_PI * total);
  EXPECT_NEAR(belief.likelihood, right + 0.05 / std::log(15 / 0.3), 1e-12);
  EXPECT_NEAR(belief.mean, right / belief.likelihood * 0.01 / total * off, 1e-12);
}

TEST(LotPosterior, draws_come_from_the_joint_and_not_from_the_margins) {
  const LotPosterior posterior(
      lot_of(measured({1.75, 1.85, 1.9, 1.95, 2.0, 2.0, 2.05, 2.1, 2.2, 2.3}, 22)));
  LotWorld world(7);
  double e = 0, v = 0, ee = 0, vv = 0, ev = 0;
  constexpr int kDraws = 4000;
  for (int i = 0; i < kDraws; ++i) {
    const LotDraw draw = posterior.draw(
        {world.uniform(), world.uniform(), world.uniform(), world.uniform(), world.uniform()});
    e += draw.ln_emergence / kDraws;
    v += draw.ln_vigour / kDraws;
    ee += draw.ln_emergence * draw.ln_emergence / kDraws;
    vv += draw.ln_vigour * draw.ln_vigour / kDraws;
    ev += draw.ln_emergence * draw.ln_vigour / kDraws;
  }
  const double sd_e = std::sqrt(ee - e * e), sd_v = std::sqrt(vv - v * v);
  EXPECT_NEAR(e, posterior.ln_emergence().mean(), 4 * sd_e / std::sqrt(kDraws));
  EXPECT_NEAR(sd_e, posterior.ln_emergence().sd(), 0.05 * sd_e);
  EXPECT_NEAR(sd_v, posterior.ln_vigour().sd(), 0.05 * sd_v);
  EXPECT_NEAR((ev - e * v) / (sd_e * sd_v), posterior.correlation(), 0.02);
}

// 60 lots here, 2000 in tests/bench/lot_coverage.cpp: 4 sd of a binomial of 0.9.
TEST(LotPosterior, intervals_of_nine_in_ten_hold_the_truth_as_often) {
  const LotCoverage found = cover(20270412, 60);
  for (const Coverage* coverage : {&found.viability, &found.ln_emergence, &found.ln_vigour}) {
    EXPECT_NEAR(coverage->share(), 0.90, 4 * std::sqrt(0.09 / coverage->lots));
    EXPECT_LT(coverage->chi_square(), 43.82);  // R: qchisq(0.999, 19)
  }
}

}  // namespace
}  // namespace takehold::client
