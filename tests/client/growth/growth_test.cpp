#include <gtest/gtest.h>

#include <cmath>

#include "client/growth/emergence.hpp"
#include "client/growth/stem.hpp"
#include "client/growth/viability.hpp"
#include "client/growth/warmth.hpp"

namespace takehold::client {
namespace {

using sensors::Celsius;
using sensors::Millimetres;
using sensors::ThermalTime;

Course constant(double degc, int days = 60) {
  return Course(
      hourly_from_noon({Celsius::degc(degc), Celsius::degc(degc), 14}, std::chrono::days(days)));
}

// Harrington & Minges 1954, in Knott's Handbook for Vegetable Growers: tomato.
TEST(Emergence, published_days_come_back_exactly) {
  const std::pair<double, double> table[] = {{10, 43}, {15, 14}, {20, 8},
                                             {25, 6},  {30, 6},  {35, 9}};
  for (const auto& [degc, days] : table) {
    EXPECT_DOUBLE_EQ(1 / emergence_rate_per_day(Celsius::degc(degc)), days) << degc;
    const auto age = age_at_emergence(constant(degc), 1.0);
    ASSERT_TRUE(age) << degc;
    EXPECT_NEAR(age->count(), days, 1e-9) << degc;
  }
  for (const double degc : {-5.0, 0.0, 5.0, 40.0, 45.0}) {
    EXPECT_EQ(emergence_rate_per_day(Celsius::degc(degc)), 0.0) << degc;
    EXPECT_FALSE(age_at_emergence(constant(degc), 1.0)) << degc;
  }
}

// Abdelhafeez & Verkerk, Neth. J. Agric. Sci.: nothing emerged at 9 degC in 42 days.
TEST(Emergence, nothing_is_up_after_six_weeks_at_nine_degrees) {
  EXPECT_FALSE(age_at_emergence(constant(9, 42), 1.0));
}

TEST(Emergence, rate_is_monotone_between_the_points_of_the_table) {
  for (double t = 5; t < 25; t += 0.01) {
    EXPECT_LE(emergence_rate_per_day(Celsius::degc(t)),
              emergence_rate_per_day(Celsius::degc(t + 0.01)) + 1e-15)
        << t;
  }
  for (double t = 30; t < 40; t += 0.01) {
    EXPECT_GE(emergence_rate_per_day(Celsius::degc(t)),
              emergence_rate_per_day(Celsius::degc(t + 0.01)) - 1e-15)
        << t;
  }
  for (double t = 25; t <= 30; t += 0.1) {
    EXPECT_NEAR(emergence_rate_per_day(Celsius::degc(t)), 1.0 / 6, 1e-15) << t;
  }
}

TEST(Emergence, alternating_temperature_averages_the_rates_not_the_temperatures) {
  const BenchCycle bench{Celsius::degc(25), Celsius::degc(15), 12};
  const Course course(hourly_from_noon(bench, std::chrono::days(60)));
  // 8.4 days by the mean rate; a whole number of day-and-night cycles lies exactly on the line.
  const double mean_rate = (1.0 / 6 + 1.0 / 14) / 2;
  EXPECT_NEAR(course.age_at_progress(8 * mean_rate)->count(), 8.0, 1e-9);
  // At 20 degC throughout it takes 8 days, and alternation is not the same as its mean.
  EXPECT_GT(age_at_emergence(course, 1.0)->count(), 8.05);
}

// El Sayed & John 1973 (authors from memory), J. Amer. Soc. Hort. Sci.: 160 degF·d above a base of
// 42.6 degF; at 68 degF that is 6.30 days, where the table says 8.0: both are published.
TEST(ThermalTimeToEmergence, published_cases) {
  const auto heat = ThermalTime::degc_days(160 / 1.8);
  EXPECT_NEAR(heat.degc_days(), 88.9, 0.05);
  EXPECT_NEAR(age_by_thermal_time(Celsius::degf(68), Celsius::degf(42.6), heat)->count(), 6.30,
              0.005);
  EXPECT_FALSE(age_by_thermal_time(Celsius::degc(9), Celsius::degc(9), heat));
}

// The table's own points from 10 to 25 degC fitted: base 7.52 degC, 103.3 degC·d.
TEST(ThermalTimeToEmergence, fit_of_the_table_below_25_degrees) {
  const std::pair<double, double> fitted[] = {{10, 41.6}, {15, 13.8}, {20, 8.3}, {25, 5.9}};
  for (const auto& [degc, days] : fitted) {
    const auto age = age_by_thermal_time(Celsius::degc(degc), Celsius::degc(7.52),
                                         ThermalTime::degc_days(103.3));
    EXPECT_NEAR(age->count(), days, 0.06) << degc;
  }
}

TEST(Warmth, day_is_centred_on_noon_and_parts_of_hours_count) {
  const BenchCycle bench{Celsius::degc(24), Celsius::degc(20), 13};
  EXPECT_EQ(bench.mean_of_hour(12).degc(), 24);
  EXPECT_EQ(bench.mean_of_hour(5).degc(), 22);   // half of 5:00-6:00 is day
  EXPECT_EQ(bench.mean_of_hour(18).degc(), 22);  // and half of 18:00-19:00
  EXPECT_EQ(bench.mean_of_hour(4).degc(), 20);
  double sum = 0;
  for (int hour = 0; hour < 24; ++hour) sum += bench.mean_of_hour(hour).degc();
  EXPECT_NEAR(sum, 13 * 24 + 11 * 20, 1e-9);
}

TEST(Warmth, growth_heat_counts_above_10_and_no_further_above_30) {
  EXPECT_EQ(growth_heat_per_day(Celsius::degc(9)).degc_days(), 0);
  EXPECT_EQ(growth_heat_per_day(Celsius::degc(22)).degc_days(), 12);
  EXPECT_EQ(growth_heat_per_day(Celsius::degc(36)).degc_days(), 20);
  const Course course = constant(22);
  EXPECT_NEAR(course.heat_between(Age(1.25), Age(3.75)).degc_days(), 30, 1e-9);
  EXPECT_NEAR(course.age_at_heat(Age(1.25), ThermalTime::degc_days(30))->count(), 3.75, 1e-9);
  EXPECT_FALSE(course.age_at_heat(Age(0), ThermalTime::degc_days(60 * 12 + 1)));
}

// UConn Extension IPM: graft 17.5-21 days after sowing, clips of 2.0-2.5 mm usual.
TEST(Stem, average_scion_reaches_two_millimetres_when_growers_graft) {
  const Course course = constant(22);
  const auto two = Millimetres::mm(2.0);
  const auto scion = age_at_diameter(course, average_speed(Species::lycopersicum), {}, two);
  const auto rootstock = age_at_diameter(course, average_speed(Species::interspecific), {}, two);
  ASSERT_TRUE(scion && rootstock);
  EXPECT_GE(scion->count(), 17.5);
  EXPECT_LE(scion->count(), 21.0);
  EXPECT_NEAR(scion->count(), 19.3, 0.05);      // an independent prototype of the same model
  EXPECT_NEAR(rootstock->count(), 21.4, 0.05);  // likewise
}

TEST(Stem, diameter_and_heat_are_inverse) {
  const StemGrowth stem;
  for (double d = 1.2; d < 6.5; d += 0.1) {
    const auto heat = stem.heat_to(Millimetres::mm(d), 1.2);
    EXPECT_NEAR(stem.diameter(*heat, 1.2).mm(), d, 1e-12);
  }
  EXPECT_EQ(stem.heat_to(Millimetres::mm(1.0))->degc_days(), 0);
  EXPECT_FALSE(stem.heat_to(Millimetres::mm(7.0)));
  EXPECT_DOUBLE_EQ(stem.diameter(ThermalTime::degc_days(0)).mm(), 1.1);
}

TEST(Stem, sensitivity_is_the_slope_of_the_logarithms) {
  const StemGrowth stem;
  const auto log_d = [&](double x) {
    return std::log(stem.diameter(ThermalTime::degc_days(x)).mm());
  };
  const double numeric = (log_d(150 * 1.0001) - log_d(150 / 1.0001)) / (2 * std::log(1.0001));
  EXPECT_NEAR(stem.sensitivity(ThermalTime::degc_days(150)), numeric, 1e-6);
}

TEST(Stem, graftable_wants_leaves_and_a_diameter_that_clips_hold) {
  const Graftable graftable;
  EXPECT_TRUE(graftable.holds(ThermalTime::degc_days(120), Millimetres::mm(1.5)));
  EXPECT_TRUE(graftable.holds(ThermalTime::degc_days(200), Millimetres::mm(2.6)));
  EXPECT_FALSE(graftable.holds(ThermalTime::degc_days(119.9), Millimetres::mm(2.0)));
  EXPECT_FALSE(graftable.holds(ThermalTime::degc_days(200), Millimetres::mm(2.601)));
  EXPECT_FALSE(graftable.holds(ThermalTime::degc_days(200), Millimetres::mm(1.499)));
}

TEST(Stem, nothing_stands_before_emergence) {
  const auto speed = average_speed(Species::lycopersicum);
  EXPECT_FALSE(middle_seedling(constant(20), speed, {}, Age(7.9)));
  EXPECT_NEAR(middle_seedling(constant(20), speed, {}, Age(8.0))->diameter.mm(), 1.1, 1e-9);
}

TEST(Viability, prior_falls_with_age_and_keeps_its_weight) {
  EXPECT_EQ(viability_prior(Origin::bought, 0), (Chance{17, 3}));
  EXPECT_EQ(viability_prior(Origin::fermented, 0), (Chance{16, 4}));
  EXPECT_EQ(viability_prior(Origin::paper, -1), (Chance{14, 6}));
  const Chance old = viability_prior(Origin::bought, 6);
  EXPECT_NEAR(old.mean(), 0.85 * std::pow(0.97, 4) * 0.85 * 0.85, 1e-12);
  EXPECT_NEAR(old.a + old.b, 20, 1e-12);
  EXPECT_EQ((Chance{17, 3}.after(18, 20)), (Chance{35, 5}));
}

}  // namespace
}  // namespace takehold::client
