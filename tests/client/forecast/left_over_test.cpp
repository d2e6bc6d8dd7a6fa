#include "client/forecast/left_over.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace takehold::client {
namespace {

using sensors::Millimetres;
using sensors::ThermalTime;

// 22 degC: 12 degC·d a day; 16 degC: 6.
LeftStem stem(Micrometres um, double vigour = 1) {
  return {um, vigour, ThermalTime::degc_days(12), ThermalTime::degc_days(6)};
}
const Tolerance kNear = Tolerance::absolute(Millimetres::mm(0.05));

TEST(LaterDiameter, goes_on_along_the_curve_that_the_stem_is_on) {
  const StemGrowth curve;
  for (const double vigour : {0.8, 1.0, 1.3}) {
    const auto at = [&](double heat) {
      return curve.diameter(ThermalTime::degc_days(heat), vigour);
    };
    EXPECT_NEAR(later_diameter(at(200), ThermalTime::degc_days(36), vigour).mm(), at(236).mm(),
                1e-12);
  }
  // By hand: 7 (2/7)^exp(-0.0026 * 12), the default curve's numbers of MODEL section 3.
  EXPECT_NEAR(later_diameter(Millimetres::mm(2), ThermalTime::degc_days(12), 1).mm(),
              7 * std::pow(2.0 / 7, std::exp(-0.0312)), 1e-12);
  EXPECT_EQ(later_diameter(Millimetres::mm(8), ThermalTime::degc_days(12), 1).mm(), 8);
}

TEST(LeftOver, a_slow_rootstock_that_catches_up_by_itself_is_waited_for) {
  // 2.00 grows by 4 % a day at vigour 1; at vigour 2 the thin one gains 0.08 mm a day on it.
  const auto answer = advise_left_over(std::vector{stem(1850, 2)}, std::vector{stem(2000)}, kNear);
  ASSERT_EQ(answer.rootstocks[0].fate, LeftOverFate::wait);
  EXPECT_EQ(answer.rootstocks[0].partner, 0u);
  const int days = answer.rootstocks[0].in_days;
  const auto apart = [](int day) {
    return std::abs(
        later_diameter(Millimetres::um(1850), ThermalTime::degc_days(12 * day), 2).um() -
        later_diameter(Millimetres::um(2000), ThermalTime::degc_days(12 * day), 1).um());
  };
  EXPECT_LE(apart(days), 50);
  for (int day = 0; day < days; ++day) EXPECT_GT(apart(day), 50);
}

TEST(LeftOver, the_side_that_is_ahead_goes_to_the_cooler_place) {
  const auto answer = advise_left_over(std::vector{stem(2100)}, std::vector{stem(1950)}, kNear);
  EXPECT_EQ(answer.rootstocks[0].fate, LeftOverFate::cooler);
  EXPECT_EQ(answer.scions[0].fate, LeftOverFate::wait);
  EXPECT_EQ(answer.rootstocks[0].in_days, answer.scions[0].in_days);
  EXPECT_LE(std::abs(*answer.rootstocks[0].then - *answer.scions[0].then), 50);
}

TEST(LeftOver, what_nothing_fits_before_it_is_too_thick_is_discarded) {
  const auto alone = advise_left_over(std::vector{stem(2500), stem(2700)}, {}, kNear);
  EXPECT_EQ(alone.rootstocks[0].fate, LeftOverFate::discard);
  EXPECT_EQ(alone.rootstocks[0].days_to_too_thick, 2);  // by hand: 2.581, then 2.663 mm
  EXPECT_EQ(alone.rootstocks[1].days_to_too_thick, 0);
  const auto apart = advise_left_over(std::vector{stem(2550)}, std::vector{stem(1400)}, kNear);
  EXPECT_EQ(apart.scions[0].fate, LeftOverFate::discard);
}

}  // namespace
}  // namespace takehold::client
