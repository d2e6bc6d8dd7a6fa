#include "client/plan/pair_seasons.hpp"

#include <gtest/gtest.h>

#include <boost/math/special_functions/beta.hpp>
#include <cmath>
#include <random>

#include "client/growth/emergence.hpp"
#include "client/match/matching.hpp"
#include "client/plan/counts.hpp"
#include "client/plan/pair_chance.hpp"
#include "client/plan/share_quantile.hpp"
#include "client/plan/take_tail.hpp"
#include "client/season/normal.hpp"
#include "planned_pair.hpp"

namespace takehold::client {
namespace {

constexpr std::uint64_t kSeed = 1;
const TakeBelief kAllTake(Chance{1e12, 1e-3});

class AtTwentyTwo : public testing::Test {
 protected:
  SidePlan rootstock(Chance viability = {17, 3}) const {
    return side_of(course_, 1, Species::interspecific, viability, 21);
  }
  SidePlan scion(Chance viability = {16, 4}) const {
    return side_of(course_, 2, Species::lycopersicum, viability, 19);
  }

  Course course_ = bench_at(22, 22);
  MatchCounter tenth_ = within_percent(10);
  DrawStore store_{kSeed, 4096};
  DrawStore few_{kSeed, 300};
};

// No limits on size, any mismatch joined.
class OnlyViability : public AtTwentyTwo {
 protected:
  PairSeasons seasons(Chance rootstock_alive, Chance scion_alive) {
    return {rootstock(rootstock_alive), scion(scion_alive), {0}, any_, store_, {.spread = true}};
  }
  void expect_within_four_errors(PairSeasons seasons, SeedCounts seeds, double exact) {
    const PairChance chance(kAllTake, 6, 100);
    const double found = chance.probability(seasons.spread(seeds), 100);
    EXPECT_NEAR(found, exact, 4 * std::sqrt(exact * (1 - exact) / 4096));
  }
  MatchCounter any_{Tolerance::unlimited(), StemKey::kWidest};
};

TEST_F(OnlyViability, agrees_with_the_exact_tail_when_one_side_limits) {
  expect_within_four_errors(seasons({17, 3}, {1e9, 1e-3}), {8, 30},
                            beta_binomial_tail(6, 8, Chance{17, 3}));
}

TEST_F(OnlyViability, agrees_with_the_product_of_both_tails_when_both_sides_limit) {
  expect_within_four_errors(
      seasons({17, 3}, {16, 4}), {8, 9},
      beta_binomial_tail(6, 8, Chance{17, 3}) * beta_binomial_tail(6, 9, Chance{16, 4}));
}

TEST_F(OnlyViability, sure_stems_leave_the_exact_tail_of_takes) {
  PairSeasons all = seasons({1e9, 1e-3}, {1e9, 1e-3});
  const PairChance chance(TakeBelief(Chance{8, 2}), 6, 100);
  const SampledChance found = chance.sampled(all.spread({9, 9}), 9, all.seasons());
  EXPECT_NEAR(found.probability, beta_binomial_tail(6, 9, Chance{8, 2}), 1e-12);
  EXPECT_NEAR(found.standard_error, 0, 1e-8);
}

TEST_F(AtTwentyTwo, more_seed_never_lowers_any_season) {
  SidePlan waves = rootstock();
  waves.parts.push_back(waves.parts.front());
  waves.parts[1].wave = 1;
  waves.parts[1].days_to_graft = 24;
  waves.evenly = true;
  for (const SidePlan& below : {rootstock(), waves}) {
    PairSeasons seasons(below, scion(), {-2, -1, 0, 1, 2}, tenth_, few_);
    seasons.match_within({{10, 10}, {30, 15}});  // the last step is beyond it
    auto last = seasons.pairs({10, 10});
    for (int more = 1; more <= 6; ++more) {
      const auto now = seasons.pairs({10 + 3 * more, 10 + more});
      for (std::size_t i = 0; i < now.size(); ++i) EXPECT_GE(now[i], last[i]);
      last = now;
    }
  }
}

// What was drawn with room for more seed, or after other questions, is the same.
TEST_F(AtTwentyTwo, answers_depend_on_nothing_but_the_question) {
  PairSeasons once(rootstock(), scion(), {-2, -1, 0, 1, 2}, tenth_, few_);
  const auto first = once.pairs({24, 25});
  DrawStore other(kSeed, 300);
  PairSeasons after(rootstock(), scion(), {2, 1, 0, -1, -2}, tenth_, other);
  after.pairs({60, 3});
  EXPECT_EQ(after.pairs({24, 25}), first);
  DrawStore luck(2, 300);
  EXPECT_NE(PairSeasons(rootstock(), scion(), {-2, -1, 0, 1, 2}, tenth_, luck).pairs({24, 25}),
            first);
}

// Every count of a window matched at once, against each by itself: two waves and a sowing that is
// there already below, two lots one after the other above.
TEST_F(AtTwentyTwo, counts_matched_at_once_are_those_matched_one_by_one) {
  SidePlan below = rootstock();
  below.parts.resize(3, below.parts.front());
  below.parts[0].sown = 4;
  below.parts[0].most = 0;
  below.parts[1].wave = 1;
  below.parts[2].wave = 2;
  below.parts[2].days_to_graft = 24;
  below.evenly = true;
  SidePlan above = scion();
  above.parts.push_back(above.parts.front());
  above.parts[0].most = 9;
  above.parts[1].lot.key = 3;
  for (const SeedCounts least : {SeedCounts{0, 0}, SeedCounts{6, 3}, SeedCounts{2, 12}}) {
    const SeedCounts most{least.rootstock + 9, least.scion + 8};
    PairSeasons at_once(below, above, {-2, -1, 0, 1, 2}, tenth_, few_);
    at_once.match_within({least, most});
    PairSeasons one_by_one(below, above, {-2, -1, 0, 1, 2}, tenth_, few_);
    for (int r = least.rootstock; r <= most.rootstock; ++r) {
      for (int s = least.scion; s <= most.scion; ++s) {
        EXPECT_EQ(at_once.pairs({r, s}), one_by_one.pairs({r, s})) << r << " " << s;
      }
    }
  }
}

TEST_F(AtTwentyTwo, the_better_day_of_a_window_is_taken_and_ages_matter) {
  const PairChance chance(TakeBelief(Chance{8, 2}), 6, 100);
  const auto probability = [&](const SidePlan& below, std::vector<int> shifts) {
    PairSeasons seasons(below, scion(), std::move(shifts), tenth_, store_);
    return chance.probability(seasons.spread({24, 25}), 14);
  };
  const double best_of_five = probability(rootstock(), {-2, -1, 0, 1, 2});
  EXPECT_GE(best_of_five, probability(rootstock(), {0}));
  SidePlan old = rootstock();
  old.parts[0].days_to_graft = 30;  // far too thick by then
  EXPECT_LT(probability(old, {-2, -1, 0, 1, 2}), best_of_five - 0.2);
}

// The factored growth of the simulation against the curve itself.
TEST_F(AtTwentyTwo, stems_are_those_of_the_growth_curve) {
  const SidePlan side = scion({1e9, 1e-3});
  const auto& luck = few_.luck(side.parts[0].lot);
  const auto& draws = few_.sowing(side.parts[0], 20, false);
  const SideSowing sowing{&draws, 20, &luck, &course_, 19};
  const SideStems stems(std::vector{sowing}, std::vector{0, 3}, {0, 300}, true);
  for (int season = 0; season < 300; ++season) {
    const double vigour = luck[static_cast<std::size_t>(season)].vigour;
    std::vector<double> by_seed(20, -1);
    std::vector<DrawnSeed> drawn;
    draws.add_in(season, 20, drawn);
    for (const DrawnSeed& seed : drawn) {
      const double up = std::log(seed.heat_factor) / (StemGrowth{}.rate_per_degc_day * vigour);
      const auto heat = sensors::ThermalTime::degc_days(std::max(0.0, 12.0 * 22 - up));
      by_seed[seed.number] =
          1000 * StemGrowth{}.diameter(heat, vigour).mm() * std::exp(seed.ln_size);
    }
    ASSERT_EQ(stems.on(season, 1).size(), drawn.size());
    for (const StemKey stem : stems.on(season, 1)) {
      EXPECT_NEAR(stem.um(), by_seed[stem.seed()], 0.51);
    }
  }
}

TEST(MatchCounter, counts_as_the_matching_does) {
  std::mt19937 random(7);
  for (const Tolerance& tolerance :
       {Tolerance::percent_of_mean(10), Tolerance::percent_of_mean(3),
        Tolerance::absolute(sensors::Millimetres::mm(0.2)),
        Tolerance::percent_of_mean(10).with_rootstock_thinner_by_at_most(
            sensors::Millimetres::mm(0.05))}) {
    const MatchCounter counter(tolerance, 2600);
    for (int round = 0; round < 200; ++round) {
      std::vector<std::uint16_t> x(random() % 30), y(random() % 30);
      for (auto* side : {&x, &y}) {
        for (auto& um : *side) um = static_cast<std::uint16_t>(1500 + random() % 1101);
        std::sort(side->begin(), side->end());
      }
      const std::vector<Micrometres> a(x.begin(), x.end()), b(y.begin(), y.end());
      EXPECT_EQ(counter.count(x, y), static_cast<int>(match_stems(a, b, tolerance).count()));
    }
  }
}

TEST(ShareQuantile, is_the_beta_quantile) {
  for (const Chance belief : {Chance{17, 3}, Chance{14, 6}, Chance{0.9, 19.1}, Chance{200, 20}}) {
    const ShareQuantile quantile(belief);
    for (double z = -5; z <= 5; z += 0.173) {
      const double exact = boost::math::ibeta_inv(belief.a, belief.b, normal_below(z));
      EXPECT_NEAR(quantile.at(z), exact, 1e-5) << belief.a << " " << z;
    }
  }
}

TEST(TakeTail, is_the_beta_binomial_tail_for_every_number_of_grafts) {
  const TakeBelief belief(std::vector<TakeBelief::Part>{{0.3, {8, 2}}, {0.7, {30, 3}}});
  for (const int want : {0, 1, 6, 40}) {
    const auto tail = take_tail(belief, want, 120);
    for (int g = 0; g <= 120; ++g) {
      EXPECT_NEAR(tail[static_cast<std::size_t>(g)], beta_binomial_tail(want, g, belief), 1e-12);
    }
  }
}

TEST(PairChance, grafts_and_finished_plants_are_those_of_the_whole_distribution) {
  const TakeBelief take(Chance{8, 2});
  const PairChance chance(take, 3, 50);
  const PairSpread spread{0.1, 0, 0.1, 0, 0, 0.3, 0.5};  // 0, 2, 5 or 6 pairs
  const auto exact = [&](int grafts, int want) {
    double sum = 0;
    for (int m = 0; m <= 6; ++m) {
      sum +=
          spread[static_cast<std::size_t>(m)] * beta_binomial_tail(want, std::min(m, grafts), take);
    }
    return sum;
  };
  for (int g = 0; g <= 6; ++g) EXPECT_NEAR(chance.probability(spread, g), exact(g, 3), 1e-12);
  EXPECT_EQ(chance.fewest_grafts(spread, exact(4, 3)), 4);
  EXPECT_EQ(chance.fewest_grafts(spread, exact(4, 3) + 1e-6), 5);
  EXPECT_FALSE(chance.fewest_grafts(spread, 0.81));  // in a fifth of the seasons too few pairs
  EXPECT_NEAR(chance.useful(spread, 5), exact(5, 1) + exact(5, 2) + exact(5, 3), 1e-12);
  const CountOutlook finished = chance.finished(spread, 5);
  EXPECT_NEAR(finished.mean, 0.8 * (0.1 * 2 + 0.8 * 5), 1e-12);
  for (const auto& [quantile, share] : {std::pair{finished.p10, 0.1}, {finished.p90, 0.9}}) {
    EXPECT_GE(1 - exact(5, quantile + 1), share - 1e-9);
    EXPECT_LT(1 - exact(5, quantile), share);
  }
}

}  // namespace
}  // namespace takehold::client
