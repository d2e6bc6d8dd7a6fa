#include <gtest/gtest.h>

#include <cmath>

#include "client/plan/age_search.hpp"
#include "client/plan/count_choice.hpp"
#include "client/plan/counts.hpp"
#include "planned_pair.hpp"

namespace takehold::client {
namespace {

constexpr std::uint64_t kSeed = 1;

std::vector<int> ages_to(int oldest) {
  std::vector<int> ages;
  for (int age = 1; age <= oldest; ++age) ages.push_back(age);
  return ages;
}

std::optional<GraftAges> ages_on(const Course& course, const std::vector<int>& allowed) {
  DrawStore store(kSeed, 4096);
  const SidePlan below = side_of(course, 1, Species::interspecific, {17, 3}, 0);
  const SidePlan above = side_of(course, 2, Species::lycopersicum, {17, 3}, 0);
  return search_ages({below, 20, allowed}, {above, 20, allowed}, {-2, -1, 0, 1, 2},
                     within_percent(10), store, store.seasons());
}

// UConn Extension IPM: rootstock sown about 3 days before the scion, grafted 17.5-21 days after
// sowing at about 22 degC.
TEST(AgeSearch, rootstock_goes_first_by_about_three_days) {
  for (const auto& [day, night] : {std::pair{18, 18}, {20, 20}, {22, 22}, {24, 24}, {24, 20}}) {
    const auto ages = ages_on(bench_at(day, night), ages_to(60));
    ASSERT_TRUE(ages);
    const int offset = *ages->rootstock_days - *ages->scion_days;
    EXPECT_GE(offset, 2) << day << "/" << night;
    EXPECT_LE(offset, 4) << day << "/" << night;
  }
}

TEST(AgeSearch, only_days_that_may_be_sown_are_used_and_cold_has_no_answer) {
  std::vector<int> weekends;
  for (int age = 1; age <= 60; ++age) {
    if (age % 7 < 2) weekends.push_back(age);
  }
  const auto ages = ages_on(bench_at(22, 22), weekends);
  ASSERT_TRUE(ages);
  EXPECT_LT(*ages->rootstock_days % 7, 2);
  EXPECT_LT(*ages->scion_days % 7, 2);
  EXPECT_FALSE(ages_on(bench_at(9, 9), ages_to(60)));
}

// Against every pair of ages by itself.
TEST(AgeSearch, no_other_ages_make_notably_more_pairs) {
  const Course course = bench_at(22, 22);
  const MatchCounter counter = within_percent(10);
  const auto mean_pairs = [&](int rootstock_days, int scion_days) {
    DrawStore store(kSeed, 4096);
    const SidePlan below = side_of(course, 1, Species::interspecific, {17, 3}, rootstock_days);
    const SidePlan above = side_of(course, 2, Species::lycopersicum, {17, 3}, scion_days);
    PairSeasons seasons(below, above, {-2, -1, 0, 1, 2}, counter, store);
    double sum = 0;
    for (const auto pairs : seasons.pairs({20, 20})) sum += pairs;
    return sum / 4096;
  };
  const auto ages = ages_on(course, ages_to(60)).value();
  const double found = mean_pairs(*ages.rootstock_days, *ages.scion_days);
  for (int r = 16; r <= 28; r += 3) {
    for (int s = 15; s <= 27; s += 3) EXPECT_LT(mean_pairs(r, s), found + 0.1) << r << " " << s;
  }
}

TEST(AgeSearch, what_is_sown_already_is_matched_as_it_stands) {
  const Course course = bench_at(22, 22);
  DrawStore store(kSeed, 1024);
  SidePlan below = side_of(course, 1, Species::interspecific, {17, 3}, 24);
  below.parts[0].sown = 20;
  below.parts[0].most = 0;
  const SidePlan above = side_of(course, 2, Species::lycopersicum, {17, 3}, 0);
  const auto ages = search_ages({below, 0, {}}, {above, 20, ages_to(60)}, {-2, -1, 0, 1, 2},
                                within_percent(10), store, store.seasons());
  ASSERT_TRUE(ages);
  EXPECT_FALSE(ages->rootstock_days);
  EXPECT_GE(*ages->scion_days, 20);
  EXPECT_LE(*ages->scion_days, 23);
}

class SmallCases : public testing::TestWithParam<std::tuple<int, double, double>> {};

TEST_P(SmallCases, cost_is_within_a_twentieth_of_an_exhaustive_scan) {
  const auto [want, rootstock_price, graft_price] = GetParam();
  const Course course = bench_at(22, 22);
  const MatchCounter counter = within_percent(10);
  SidePlan below = side_of(course, 1, Species::interspecific, {17, 3}, 21);
  SidePlan above = side_of(course, 2, Species::lycopersicum, {17, 3}, 19);
  below.parts[0].price_each = rootstock_price;
  above.parts[0].price_each = 0.1;
  DrawStore few_drawn(kSeed, 256), all_drawn(kSeed, 4096);
  PairSeasons few(below, above, {-2, -1, 0, 1, 2}, counter, few_drawn);
  PairSeasons seasons(below, above, {-2, -1, 0, 1, 2}, counter, all_drawn);
  const PairChance chance(TakeBelief(Chance{16, 4}), want, 60);
  const CountCosts costs(below, above, {0.05, graft_price, 2});
  const auto found =
      CountChoice(few, seasons, chance, costs, {120, 120}).cheapest(0.8, std::nullopt);
  ASSERT_TRUE(found);
  seasons.match_within({{}, {40, 90}});
  EXPECT_GE(chance.probability(seasons.spread(found->seeds), found->grafts), 0.8 - kReached);
  double cheapest = INFINITY;
  for (int r = want; r <= 40; ++r) {
    for (int s = want; s <= 90; ++s) {
      if (costs.of(SeedCounts{r, s}) + graft_price * want >= cheapest) break;
      const auto grafts = chance.fewest_grafts(seasons.spread({r, s}), 0.8);
      if (grafts) cheapest = std::min(cheapest, costs.of(PairCounts{{r, s}, *grafts}));
    }
  }
  EXPECT_LE(costs.of(*found), 1.05 * cheapest);
}

INSTANTIATE_TEST_SUITE_P(Prices, SmallCases,
                         testing::Combine(testing::Values(1, 2, 4), testing::Values(0.1, 0.5, 2.0),
                                          testing::Values(0.2, 2.0)));

TEST(CountChoice, says_when_the_confidence_is_out_of_reach) {
  const Course course = bench_at(22, 22);
  const MatchCounter counter = within_percent(1);
  const SidePlan below = side_of(course, 1, Species::interspecific, {17, 3}, 30);
  const SidePlan above = side_of(course, 2, Species::lycopersicum, {17, 3}, 19);
  DrawStore store(kSeed, 256);
  PairSeasons few(below, above, {0}, counter, store), all(below, above, {0}, counter, store);
  const PairChance chance(TakeBelief(Chance{8, 2}), 4, 60);
  const CountCosts costs(below, above, {});
  EXPECT_FALSE(CountChoice(few, all, chance, costs, {60, 60}).cheapest(0.95, std::nullopt));
}

}  // namespace
}  // namespace takehold::client
