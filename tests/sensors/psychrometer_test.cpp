// The worked examples of Allen, Pereira, Raes & Smith 1998, FAO Irrigation and Drainage Paper 56.
#include "sensors/air/psychrometer.hpp"

#include <gtest/gtest.h>

#include "sensors/air/psychrometrics.hpp"

namespace takehold::sensors {
namespace {

TEST(Psychrometer, pressure_at_1800_m_is_fao_example_2) {
  EXPECT_NEAR(pressure_at(Altitude::m(1800.0)).kpa(), 81.8, 0.05);
}

TEST(Psychrometer, pressure_falls_with_height_from_that_of_the_sea) {
  EXPECT_NEAR(pressure_at(Altitude::m(0.0)).kpa(), 101.3, 1e-9);
  EXPECT_LT(pressure_at(Altitude::m(500.0)), pressure_at(Altitude::m(100.0)));
}

TEST(Psychrometer, both_thermometers_give_fao_example_4) {
  const auto air = pressure_at(Altitude::m(1200.0));
  EXPECT_NEAR(air.kpa(), 87.9, 0.05);
  const auto vapour =
      vapour_pressure_by_wet_bulb(Celsius::degc(25.6), Celsius::degc(19.5), air).value();
  EXPECT_NEAR(vapour.kpa(), 1.91, 0.005);
  // The same vapour against a saturation pressure of 2.39 kPa (a cooler mean): 79.9 %.
  EXPECT_NEAR(100.0 * (vapour / Pressure::kpa(2.39)), 79.9, 0.25);
}

TEST(Psychrometer, fao_example_5_mean_vapour_of_two_readings_of_a_day) {
  const auto cold = vapour_pressure(Celsius::degc(18.0), RelativeHumidity::pct(82.0));
  const auto warm = vapour_pressure(Celsius::degc(25.0), RelativeHumidity::pct(54.0));
  EXPECT_NEAR(((cold + warm) / 2.0).kpa(), 1.70, 0.005);
}

TEST(Psychrometer, equal_thermometers_mean_saturated_air) {
  const auto t = Celsius::degc(22.0);
  EXPECT_NEAR(humidity_by_wet_bulb(t, t, kStandardPressure).value().pct(), 100.0, 1e-9);
}

TEST(Psychrometer, still_air_needs_the_larger_coefficient) {
  const auto dry = Celsius::degc(25.0);
  const auto wet = Celsius::degc(20.0);
  const auto fanned = humidity_by_wet_bulb(dry, wet, kStandardPressure).value();
  const auto still = humidity_by_wet_bulb(dry, wet, kStandardPressure, Ventilation::still).value();
  EXPECT_LT(still, fanned);
}

TEST(Psychrometer, impossible_pairs_of_thermometers_are_refused) {
  const auto swapped =
      humidity_by_wet_bulb(Celsius::degc(19.5), Celsius::degc(25.6), kStandardPressure);
  ASSERT_FALSE(swapped.has_value());
  EXPECT_EQ(swapped.error().code, "wet-bulb");
  EXPECT_FALSE(
      humidity_by_wet_bulb(Celsius::degc(30.0), Celsius::degc(2.0), kStandardPressure).has_value());
}

}  // namespace
}  // namespace takehold::sensors
