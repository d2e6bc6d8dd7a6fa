// Two-point calibration: Greenspan's table, and uncertainty propagated by hand.
#include "sensors/check/salt_calibration.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <sstream>

#include "embedded/places.hpp"
#include "sensors/check/settling.hpp"
#include "sensors/codec/decoded.hpp"
#include "sensors/sim/dice.hpp"

namespace takehold::sensors {
namespace {

Salt salt(const char* formula) {
  return find_salt(formula).value();
}

SaltReading told(const char* formula, double pct, double degc = 25.0, double u = 0.05) {
  return {salt(formula), Celsius::degc(degc), RelativeHumidity::pct(pct), RelativeHumidity::pct(u)};
}

TEST(Salts, every_row_of_greenspans_table_is_here) {
  // tests/reference/salts_greenspan.csv: salt,T_C,rh_table_pct,rh_poly_pct,u_pct_memory,note
  std::ifstream table(TAKEHOLD_SOURCE_DIR "/tests/reference/salts_greenspan.csv");
  std::string line;
  std::getline(table, line);
  int rows = 0;
  while (std::getline(table, line)) {
    std::istringstream fields(line);
    std::string name, degc, pct, poly, u;
    for (auto* field : {&name, &degc, &pct, &poly, &u}) std::getline(fields, *field, ',');
    const auto point =
        find_salt(name).value().at(Celsius::degc(parse_number(degc).value())).value();
    EXPECT_NEAR(point.humidity.pct(), parse_number(pct).value(), 1e-9) << line;
    EXPECT_NEAR(point.uncertainty.pct(), parse_number(u).value(), 1e-9) << line;
    ++rows;
  }
  EXPECT_EQ(rows, 28);
}

TEST(Salts, between_the_rows_lies_a_straight_line) {
  EXPECT_NEAR(salt("nacl").at(Celsius::degc(22.5)).value().humidity.pct(), 75.38, 1e-9);
  EXPECT_NEAR(salt("Potassium Chloride").at(Celsius::degc(15)).value().points_per_kelvin, -0.162,
              1e-9);
  EXPECT_EQ(salt("NaCl").at(Celsius::degc(14.9)).error().code, "outside-table");
  EXPECT_EQ(salt("NaCl").at(Celsius::degc(30.1)).error().code, "outside-table");
  EXPECT_EQ(find_salt("NaCl2").error().code, "unknown-salt");
}

TEST(TwoPoint, gain_and_offset_go_through_both_points) {
  // By hand: 75.29 at 73.1 told, 97.30 at 94.0: gain 22.01 / 20.9 = 1.053110, offset -1.692344.
  const auto found = two_point(told("NaCl", 73.1), told("K2SO4", 94.0)).value();
  EXPECT_NEAR(found.correction.gain, 1.0531100, 1e-6);
  EXPECT_NEAR(found.correction.offset, -1.6923445, 1e-6);
  const auto turned = two_point(told("K2SO4", 94.0), told("NaCl", 73.1)).value();
  EXPECT_NEAR(turned.correction.offset, found.correction.offset, 1e-9);
  EXPECT_NEAR(turned.offset_uncertainty.pct(), found.offset_uncertainty.pct(), 1e-9);
}

TEST(TwoPoint, uncertainty_is_propagated_as_by_hand) {
  // No unevenness, an exact thermometer: u(y) is Greenspan's alone, 0.12 and 0.45; u(x) 0.2 each.
  // gain 22.01/20.9: w1 = 0.0144 + 0.0443617 = 0.0587617, w2 = 0.2025 + 0.0443617 = 0.2468617,
  // u(gain) = sqrt(0.3056234)/20.9 = 0.0264513,
  // u(offset) = sqrt(94² · 0.0587617 + 73.1² · 0.2468617)/20.9 = sqrt(519.22 + 1319.14)/20.9
  // = 2.0515.
  SaltOptions exact;
  exact.unevenness = exact.thermometer = TemperatureSpan::kelvin(0.0);
  const auto found =
      two_point(told("NaCl", 73.1, 25, 0.2), told("K2SO4", 94.0, 25, 0.2), exact).value();
  EXPECT_NEAR(found.gain_uncertainty, 0.0264513, 1e-5);
  EXPECT_NEAR(found.offset_uncertainty.pct(), 2.0515, 1e-3);
  // At its own points a corrected value is as uncertain as that point: sqrt(w).
  EXPECT_NEAR(found.uncertainty_at(RelativeHumidity::pct(73.1)).pct(), 0.242408, 1e-5);
  EXPECT_NEAR(found.uncertainty_at(RelativeHumidity::pct(94.0)).pct(), 0.496852, 1e-5);
}

TEST(TwoPoint, a_jar_that_is_warmer_than_its_salt_costs_six_percent_a_kelvin) {
  // At 25 degC es rises by 0.18859 kPa/K on 3.1690 kPa (ASHRAE): 5.95 %/K. 75.29 % and 0.1 K: 0.448
  // points, with the salt's own 0.12 and 0.3 K of -0.036 points/K: 0.464.
  EXPECT_NEAR(true_uncertainty(told("NaCl", 73.1), {}).value().pct(), 0.464, 0.003);
}

TEST(TwoPoint, propagation_agrees_with_many_tries) {
  const auto a = told("NaCl", 73.1, 25, 0.3);
  const auto b = told("K2SO4", 94.0, 25, 0.3);
  const auto found = two_point(a, b).value();
  const double ua = true_uncertainty(a, {}).value().pct();
  const double ub = true_uncertainty(b, {}).value().pct();
  Dice dice(11);
  constexpr int kTries = 20'000;
  double sum = 0.0, squares = 0.0;
  for (int i = 0; i < kTries; ++i) {
    const double x1 = 73.1 + 0.3 * dice.noise(), x2 = 94.0 + 0.3 * dice.noise();
    const double y1 = 75.29 + ua * dice.noise(), y2 = 97.30 + ub * dice.noise();
    const double gain = (y2 - y1) / (x2 - x1);
    sum += gain;
    squares += gain * gain;
  }
  const double sd = std::sqrt(squares / kTries - sum * sum / kTries / kTries);
  // The sd of an sd of 20 000 tries is half a percent; first order leaves out less than 1 % here.
  EXPECT_NEAR(found.gain_uncertainty / sd, 1.0, 0.03);
}

TEST(TwoPoint, points_too_close_or_impossible_are_refused) {
  EXPECT_EQ(two_point(told("NaCl", 73), told("KCl", 82)).error().code, "too-close");
  EXPECT_EQ(two_point(told("NaCl", 73), told("NaCl", 73.5)).error().code, "too-close");
  EXPECT_EQ(two_point(told("NaCl", 90), told("K2SO4", 90.1)).error().code, "too-close");
  EXPECT_EQ(two_point(told("NaCl", 94), told("K2SO4", 73)).error().code, "bad-calibration");
  EXPECT_EQ(two_point(told("NaCl", 73, 40), told("K2SO4", 94, 40)).error().code, "outside-table");
}

TEST(OnePoint, one_salt_gives_the_offset) {
  const auto found = one_point(told("NaCl", 73.1)).value();
  EXPECT_EQ(found.correction.gain, 1.0);
  EXPECT_NEAR(found.correction.offset, 2.19, 1e-9);
  EXPECT_NEAR(found.offset_uncertainty.pct(), 0.467, 0.003);
}

/// A probe put from 50 % into a jar of 75.3 %, following with a time constant of an hour.
std::optional<std::chrono::minutes> at_rest_after(double noise) {
  Settling settling;
  Dice dice(3);
  const Instant start = parse_instant("2027-01-10T10:00:00Z").value();
  for (int i = 0; i < 12 * 60 * 6; ++i) {
    const auto at = start + i * std::chrono::seconds(10);
    const double pct = 75.3 - 25.3 * std::exp(-i / 360.0) + noise * dice.noise();
    settling.add(at, Celsius::degc(25.0), RelativeHumidity::pct(std::round(100 * pct) / 100));
    if (const auto rest = settling.rest()) {
      EXPECT_NEAR(rest->humidity.pct(), 75.3, 2.5 * rest->uncertainty.pct());
      EXPECT_LT(rest->uncertainty.pct(), 0.25);
      return std::chrono::floor<std::chrono::minutes>(at - start);
    }
  }
  return std::nullopt;
}

TEST(Settling, a_slow_jar_is_waited_for) {
  // The trend of 25.3·exp(-t/1h) is down to 0.15 points an hour after ln(169) = 5.1 h, and what is
  // left to go is then 0.15 points.
  for (const double noise : {0.0, 0.05, 0.2}) {
    const auto after = at_rest_after(noise);
    ASSERT_TRUE(after) << noise;
    EXPECT_GT(*after, std::chrono::hours(4)) << noise;
    EXPECT_LT(*after, std::chrono::hours(7)) << noise;
  }
}

TEST(Settling, the_window_must_be_filled_first) {
  Settling settling;
  const Instant start = parse_instant("2027-01-10T10:00:00Z").value();
  for (int i = 0; i < 59 * 6; ++i) {
    settling.add(start + i * std::chrono::seconds(10), Celsius::degc(25),
                 RelativeHumidity::pct(75));
    ASSERT_FALSE(settling.rest());
  }
}

}  // namespace
}  // namespace takehold::sensors
