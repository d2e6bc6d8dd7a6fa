#include "client/growth/lot_knowledge.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <sstream>

#include "client/growth/stem.hpp"
#include "embedded/places.hpp"
#include "tests/support/running_program.hpp"

namespace takehold::client {
namespace {

constexpr Chance kBought{17, 3};
constexpr double kDegc = 20;

// 40 seeds at constant 20 degC: early, and thick for their age.
SowingSeen sowing() {
  SowingSeen seen;
  seen.course = std::make_shared<Course>(
      std::vector<sensors::Celsius>(24 * 60, sensors::Celsius::degc(kDegc)));
  seen.seeds = 40;
  seen.counts = {{Age(7), 12}, {Age(9), 29}, {Age(14), 33}};
  int number = 0;
  for (const double mm : {2.05, 2.2, 1.95, 2.3, 2.15, 2.1}) {
    seen.seedlings.push_back({++number, {{Age(19), sensors::Millimetres::mm(mm)}}});
  }
  return seen;
}

std::vector<double> by_r() {
  std::istringstream lines(
      testing::answer_of("Rscript --vanilla " TAKEHOLD_SOURCE_DIR
                         "/tests/client/growth/carried_lot.R 8 20 40 7:12,9:29,14:33 19 "
                         "2.05,2.2,1.95,2.3,2.15,2.1 17 3"));
  std::vector<double> numbers;
  for (double number = 0; lines >> number;) numbers.push_back(number);
  return numbers;
}

// R draws some thousands of lots that fit: its moments are sure to a few hundredths of the sd.
constexpr double kSampling = 0.08;  // of the sd

TEST(LotKnowledge, of_a_lot_and_of_its_variety_s_next_agrees_with_r) {
  const std::vector<double> expected = by_r();
  ASSERT_EQ(expected.size(), 8u);
  const auto near = [&](double found, std::size_t i, std::size_t sd) {
    EXPECT_NEAR(found, expected[i], kSampling * expected[sd]) << i;
  };
  const auto now = known_of(Species::lycopersicum, {{"QP-26", kBought, {{0, {sowing()}}}}});
  ASSERT_TRUE(now.at(0).posterior);
  near(now[0].posterior->viability().mean(), 0, 1);
  near(now[0].posterior->ln_emergence().mean(), 2, 3);
  near(now[0].posterior->ln_emergence().sd(), 3, 3);
  near(now[0].posterior->ln_vigour().mean(), 4, 5);
  near(now[0].posterior->ln_vigour().sd(), 5, 5);
  near(now[0].viability.mean(), 0, 1);

  const auto later = known_of(Species::lycopersicum,
                              {{"QP-26", kBought, {{1, {sowing()}}}}, {"QP-27", kBought, {}}});
  EXPECT_FALSE(later.at(1).posterior);
  EXPECT_EQ(later[1].viability, kBought);  // a fact of the lot that was counted
  near(later[1].ln_vigour.mean, 6, 7);
  near(later[1].ln_vigour.sd, 7, 7);
}

TEST(LotKnowledge, a_year_s_facts_weigh_half_a_year_later) {
  // 1/sd^2 of what is believed of the same lot, above the prior's 25.
  const auto gained = [](int years) {
    const auto known = known_of(Species::lycopersicum, {{"QP-26", kBought, {{years, {sowing()}}}}});
    EXPECT_EQ(known.at(0).measured.of_lot, years <= kYearsRemembered ? 6 : 0);
    return 1 / (known[0].ln_vigour.sd * known[0].ln_vigour.sd) - 25;
  };
  EXPECT_NEAR(gained(2), gained(1) / 2, 1e-9);
  EXPECT_NEAR(gained(3), gained(1) / 4, 1e-9);
  EXPECT_NEAR(gained(kYearsRemembered + 1), 0, 1e-9);
}

TEST(LotKnowledge, counts_of_a_lot_hold_while_it_does) {
  const auto counted = [](int years) {
    return known_of(Species::lycopersicum, {{"QP-26", kBought, {{years, {sowing()}}}}})
        .at(0)
        .viability.mean();
  };
  EXPECT_NEAR(counted(3), counted(1), 1e-12);
  EXPECT_LT(counted(1), kBought.mean());  // 33 of 40 came up
}

TEST(LotKnowledge, with_no_record_everything_is_assumed) {
  const LotKnowledge known =
      known_of(Species::interspecific, {{"IF-26", kBought, {{0, {}}}}}).at(0);
  EXPECT_TRUE(known.counted.is_assumed());
  EXPECT_TRUE(known.measured.is_assumed());
  EXPECT_FALSE(known.posterior);
  EXPECT_NEAR(known.ln_emergence.mean, std::log(1.3), 1e-12);
  EXPECT_NEAR(known.ln_emergence.sd, 0.15, 1e-12);
  EXPECT_NEAR(known.ln_vigour.sd, kVigourSd, 1e-12);
}

}  // namespace
}  // namespace takehold::client
