// Against tests/reference/psychro_reference.csv (made with psychrolib 2.5.0, an independent
// implementation of the ASHRAE formulas), against points printed by ASHRAE, and by properties.
#include "sensors/air/psychrometrics.hpp"
#include "embedded/places.hpp"

#include <gtest/gtest.h>

#include <fstream>
#include <map>
#include <sstream>
#include <vector>

namespace takehold::sensors {
namespace {

constexpr double kRelative = 1e-4;       // what this page promises
constexpr double kDewPointDegc = 0.002;  // the reference was rounded and its search stops at 0.001

using Row = std::map<std::string, double>;

std::vector<Row> reference_rows() {
  std::ifstream file(TAKEHOLD_SOURCE_DIR "/tests/reference/psychro_reference.csv");
  std::string line;
  std::vector<std::string> names;
  std::getline(file, line);
  for (std::stringstream head(line); std::getline(head, line, ',');) names.push_back(line);
  std::vector<Row> rows;
  while (std::getline(file, line)) {
    std::stringstream cells(line);
    Row row;
    std::string cell;
    for (const auto& name : names) {
      std::getline(cells, cell, ',');
      row[name] = std::stod(cell);
    }
    rows.push_back(row);
  }
  return rows;
}

void expect_relative(double found, double wanted, const char* what, const Row& row) {
  EXPECT_NEAR(found, wanted, kRelative * std::abs(wanted))
      << what << " at " << row.at("T_C") << " degC, " << row.at("RH_pct") << " %";
}

TEST(Psychrometrics, every_row_of_the_reference_comes_back) {
  const auto rows = reference_rows();
  ASSERT_EQ(rows.size(), 273u);
  for (const auto& row : rows) {
    const auto state =
        state_of_air(Celsius::degc(row.at("T_C")), RelativeHumidity::pct(row.at("RH_pct")),
                     Pressure::pa(row.at("P_Pa")));
    expect_relative(state.saturation.pa(), row.at("es_Pa"), "saturation", row);
    expect_relative(state.vapour.pa(), row.at("e_Pa"), "vapour", row);
    expect_relative(state.deficit.pa(), row.at("vpd_Pa"), "deficit", row);
    expect_relative(state.humidity_ratio.g_per_kg(), 1000.0 * row.at("humratio_kg_per_kg"),
                    "humidity ratio", row);
    expect_relative(state.absolute_humidity.g_per_m3(), row.at("abshum_g_m3"), "water", row);
    ASSERT_TRUE(state.dew_point.has_value());
    EXPECT_NEAR(state.dew_point->degc(), row.at("dewpoint_C"), kDewPointDegc);
  }
}

TEST(Psychrometrics, saturation_meets_the_printed_ashrae_points) {
  // ASHRAE Handbook Fundamentals 2017, chapter 1, table of saturated air; 0.03 % as compared there.
  for (const auto& [degc, pa] : {std::pair{5.0, 872.6}, {25.0, 3169.7}, {50.0, 12351.3}}) {
    EXPECT_NEAR(saturation_vapour_pressure(Celsius::degc(degc)).pa(), pa, 3e-4 * pa) << degc;
  }
}

TEST(Psychrometrics, saturated_humidity_ratio_is_ashraes_less_the_enhancement) {
  // ASHRAE 2017: 20.173 g/kg at 25 degC and sea level, of real air. Its vapour pressure is that of
  // pure water times 1.0044 (the enhancement factor there, from memory), which we leave out.
  constexpr double kEnhancement = 1.0044;
  const auto es = saturation_vapour_pressure(Celsius::degc(25.0));
  EXPECT_NEAR(humidity_ratio(es * kEnhancement, kStandardPressure).g_per_kg(), 20.173, 0.004);
  EXPECT_NEAR(humidity_ratio(es, kStandardPressure).g_per_kg(), 20.081, 0.001);
}

TEST(Psychrometrics, a_worked_point_of_the_reference_library) {
  // psychrolib 2.5.0 at 25 degC, 80 %, 101325 Pa.
  const auto state = state_of_air(Celsius::degc(25.0), RelativeHumidity::pct(80.0));
  EXPECT_NEAR(state.dew_point->degc(), 21.309, 0.001);
  EXPECT_NEAR(state.humidity_ratio.g_per_kg(), 15.9618, 0.0005);
  EXPECT_NEAR(state.absolute_humidity.g_per_m3(), 18.425, 0.0005);
  EXPECT_NEAR(state.deficit.pa(), 633.84, 0.02);
}

TEST(Psychrometrics, saturation_is_within_a_thousandth_of_the_fao_table) {
  // FAO-56 annex 2, table 2.3 (another formula, Tetens); printed in kPa with three decimals.
  for (const auto& [degc, kpa] :
       {std::pair{15.0, 1.705}, {18.0, 2.064}, {19.5, 2.267}, {24.5, 3.075}, {25.0, 3.168}}) {
    EXPECT_NEAR(saturation_vapour_pressure(Celsius::degc(degc)).kpa(), kpa, 1e-3 * kpa) << degc;
  }
}

TEST(Psychrometrics, dew_point_undoes_saturation_to_a_millionth) {
  for (double degc = -60.0; degc <= 120.0; degc += 0.37) {
    const auto dew = dew_point(saturation_vapour_pressure(Celsius::degc(degc)));
    ASSERT_TRUE(dew.has_value()) << degc;
    EXPECT_NEAR(dew->degc(), degc, 1e-6);
  }
}

TEST(Psychrometrics, dry_air_has_no_dew_point) {
  EXPECT_FALSE(dew_point(Pressure::pa(0.0)).has_value());
  EXPECT_FALSE(dew_point(Pressure::pa(-1.0)).has_value());
}

TEST(Psychrometrics, slope_is_the_derivative_of_saturation) {
  for (double degc : {0.0, 10.0, 24.0, 45.0}) {
    const double rise = (saturation_vapour_pressure(Celsius::degc(degc + 0.01)) -
                         saturation_vapour_pressure(Celsius::degc(degc - 0.01)))
                            .pa();
    EXPECT_NEAR(saturation_slope_pa_per_k(Celsius::degc(degc)), rise / 0.02, 1e-4) << degc;
  }
}

TEST(Psychrometrics, a_leaf_warmer_or_cooler_than_its_air) {
  // FAO-56 equation 11 for air at 24 degC and 90 %, arithmetic; in Pa, the formulas differ by 1.
  const auto air = Celsius::degc(24.0);
  const auto humidity = RelativeHumidity::pct(90.0);
  for (const auto& [leaf, pa] :
       {std::pair{23.0, 124.0}, {24.0, 298.0}, {25.0, 482.0}, {26.0, 676.0}}) {
    EXPECT_NEAR(leaf_vapour_pressure_deficit(Celsius::degc(leaf), air, humidity).pa(), pa, 1.5);
  }
}

TEST(Psychrometrics, water_condenses_on_a_leaf_below_the_dew_point_only) {
  const auto air = Celsius::degc(24.0);
  const auto humidity = RelativeHumidity::pct(95.0);
  const auto dew = dew_point(vapour_pressure(air, humidity)).value();
  const auto by = TemperatureSpan::kelvin(0.01);
  EXPECT_TRUE(water_condenses(leaf_vapour_pressure_deficit(dew - by, air, humidity)));
  EXPECT_FALSE(water_condenses(leaf_vapour_pressure_deficit(dew + by, air, humidity)));
}

TEST(Psychrometrics, two_points_of_humidity_are_sixty_pascals) {
  const auto error = deficit_error(Celsius::degc(24.0), RelativeHumidity::pct(90.0),
                                   {TemperatureSpan::kelvin(0.0), RelativeHumidity::pct(2.0)});
  EXPECT_NEAR(error.pa(), 60.0, 0.5);
  EXPECT_EQ(earned_decimals_kpa(error), 2);
}

TEST(Psychrometrics, a_probes_error_is_what_moving_its_values_does) {
  const auto t = Celsius::degc(24.0);
  const auto h = RelativeHumidity::pct(60.0);
  const double warmer = (vapour_pressure_deficit(Celsius::degc(24.3), h) -
                         vapour_pressure_deficit(Celsius::degc(23.7), h))
                            .pa() /
                        2.0;
  const auto error = deficit_error(t, h, {TemperatureSpan::kelvin(0.3), RelativeHumidity::pct(0)});
  EXPECT_NEAR(error.pa(), warmer, 0.01 * warmer);
}

TEST(Psychrometrics, decimals_follow_the_first_digit_of_the_error) {
  EXPECT_EQ(earned_decimals_kpa(Pressure::pa(100.0)), 1);
  EXPECT_EQ(earned_decimals_kpa(Pressure::pa(99.0)), 2);
  EXPECT_EQ(earned_decimals_kpa(Pressure::pa(5.0)), 3);
  EXPECT_EQ(earned_decimals_kpa(Pressure::pa(2500.0)), 0);
  EXPECT_EQ(earned_decimals_kpa(Pressure::pa(0.0)), 4);
}

}  // namespace
}  // namespace takehold::sensors
