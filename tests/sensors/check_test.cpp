#include <gtest/gtest.h>

#include <limits>

#include "sensors/check/judge.hpp"

namespace takehold::sensors {
namespace {

Reading reading_of(std::optional<double> degc, std::optional<double> pct) {
  Reading reading;
  reading.probe = "left";
  if (degc) reading.temperature = Celsius::degc(*degc);
  if (pct) reading.humidity = RelativeHumidity::pct(*pct);
  return reading;
}

Quality quality_of(std::optional<double> degc, std::optional<double> pct) {
  return judge(reading_of(degc, pct)).reading.quality;
}

TEST(Calibration, two_salts_are_read_at_their_published_points) {
  // Greenspan 1977, J. Res. NBS 81A:89: at 25 degC NaCl 75.29 %, K2SO4 97.30 %. A probe that shows
  // 73.1 and 94.0 there has gain 1.0531 and offset -1.69 (arithmetic).
  const Correction correction{1.0531, -1.69};
  EXPECT_NEAR(corrected(RelativeHumidity::pct(73.1), correction).pct(), 75.29, 0.01);
  EXPECT_NEAR(corrected(RelativeHumidity::pct(94.0), correction).pct(), 97.30, 0.01);
}

TEST(Calibration, mistyped_numbers_are_named_by_their_key) {
  EXPECT_TRUE(check(Calibration{}).has_value());
  EXPECT_EQ(check(Calibration{{1.0, 0.0}, {10.0, 0.0}}).error().where, "humidity.gain");
  EXPECT_EQ(check(Calibration{{1.0, -21.0}, {}}).error().where, "temperature.offset");
  EXPECT_FALSE(check(Calibration{{std::numeric_limits<double>::quiet_NaN(), 0.0}, {}}));
}

TEST(Judge, the_worlds_air_is_good) {
  EXPECT_EQ(quality_of(24.0, 96.0), Quality::good);
  EXPECT_EQ(quality_of(0.0, 0.0), Quality::good);
  EXPECT_EQ(quality_of(-40.0, 100.0), Quality::good);
  EXPECT_EQ(quality_of(24.0, std::nullopt), Quality::good);
}

TEST(Judge, values_of_broken_probes_are_bad) {
  // All bits low and all bits high of T = -45 + 175 S/65535, and two start-up values.
  for (const double degc : {-45.0, 130.0, 85.0, 125.0}) {
    EXPECT_EQ(quality_of(degc, 50.0), Quality::bad) << degc;
  }
  EXPECT_EQ(quality_of(24.0, 119.0), Quality::bad);
  EXPECT_EQ(quality_of(24.0, -6.0), Quality::bad);
  EXPECT_EQ(quality_of(std::numeric_limits<double>::quiet_NaN(), 50.0), Quality::bad);
  EXPECT_FALSE(judge(reading_of(130.0, 50.0)).reason.empty());
}

TEST(Judge, overshoot_near_saturation_is_clipped_and_good) {
  // The register 0xD999 is 100.25 % by -6 + 125 S/65535.
  const auto judged = judge(reading_of(24.0, 100.25));
  EXPECT_EQ(judged.reading.quality, Quality::good);
  EXPECT_EQ(judged.reading.humidity->pct(), 100.0);
}

TEST(Judge, the_correction_comes_before_the_verdict) {
  const Calibration calibration{{1.0, -2.0}, {}};
  EXPECT_EQ(judge(reading_of(81.0, 50.0), calibration).reading.quality, Quality::good);
  EXPECT_EQ(judge(reading_of(-39.0, 50.0), calibration).reading.quality, Quality::bad);
}

TEST(Judge, what_the_probe_told_is_kept_beside_the_corrected) {
  const auto judged = judge(reading_of(24.0, 99.0), {{1.0, -0.5}, {1.0, 2.5}});
  EXPECT_EQ(judged.reading.temperature->degc(), 23.5);
  EXPECT_EQ(judged.reading.humidity->pct(), 100.0);  // 101.5, clipped
  EXPECT_EQ(judged.reading.raw.temperature->degc(), 24.0);
  EXPECT_EQ(judged.reading.raw.humidity->pct(), 99.0);
}

TEST(Judge, an_extra_value_alone_is_a_reading_and_an_impossible_one_is_left_out) {
  Reading reading = reading_of(std::nullopt, std::nullopt);
  reading.extras.co2 = CarbonDioxide::ppm(800);
  EXPECT_EQ(judge(reading).reading.quality, Quality::good);
  reading.extras.co2 = CarbonDioxide::ppm(-1);
  EXPECT_EQ(judge(reading).reading.quality, Quality::none);
  auto air = reading_of(24.0, 96.0);
  air.extras.light = PhotonFlux::umol(65535);
  EXPECT_EQ(judge(air).reading.quality, Quality::good);
  EXPECT_FALSE(judge(air).reading.extras.light);
  EXPECT_FALSE(judge(air).reason.empty());
}

TEST(Judge, nothing_is_none_and_a_verdict_never_improves) {
  EXPECT_EQ(quality_of(std::nullopt, std::nullopt), Quality::none);
  auto suspect = reading_of(24.0, 96.0);
  suspect.quality = Quality::suspect;
  EXPECT_EQ(judge(suspect).reading.quality, Quality::suspect);
}

}  // namespace
}  // namespace takehold::sensors
