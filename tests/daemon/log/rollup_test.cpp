#include "daemon/log/rollup.hpp"

#include <gtest/gtest.h>

#include "tests/daemon/log/readings.hpp"

namespace takehold::daemon {
namespace {

std::vector<Rollup> rollups(std::chrono::milliseconds length,
                            const std::vector<sensors::Reading>& readings) {
  RollupBuilder builder(length);
  std::vector<Rollup> done;
  for (const auto& one : readings) builder.see(one, done);
  builder.finish(done);
  return done;
}

// By hand: from 20 at 0:30 to 26 at 1:30 the line is at 23 on the border of the minutes.
TEST(Rollup, a_line_is_shared_between_the_minutes_it_crosses) {
  const auto found = rollups(1min, {reading(30s, 20, 90), reading(90s, 26, 90)});
  ASSERT_EQ(found.size(), 2u);
  EXPECT_EQ(found[0].from, kStart);
  EXPECT_EQ(found[0].temperature.observed_ms, 30000);
  EXPECT_NEAR(found[0].temperature.spread()->mean, 21.5, 1e-12);
  EXPECT_NEAR(found[1].temperature.spread()->mean, 24.5, 1e-12);
  EXPECT_EQ(found[0].temperature.spread()->high, 20);  // of readings, not of the line
}

// By hand: 50 min at 20 with a reading every 10 s and 10 min at 26 with one a second are
// (50 * 20 + 10 * 26) / 60 = 21, whatever the number of readings.
TEST(Rollup, time_weighs_and_not_the_number_of_readings) {
  std::vector<sensors::Reading> readings;
  for (auto at = 0s; at < 3000s; at += 10s) readings.push_back(reading(at, 20, 90));
  for (auto at = 3000s; at < 3600s; at += 1s) readings.push_back(reading(at, 26, 90));
  const auto hour = rollups(1h, readings);
  ASSERT_EQ(hour.size(), 1u);
  EXPECT_NEAR(hour[0].temperature.spread()->mean, 21.0, 0.01);  // half of 10 s of the rise
  EXPECT_EQ(hour[0].temperature.count, 900);
}

TEST(Rollup, a_gap_is_not_bridged_and_a_lone_reading_speaks_for_itself) {
  const auto found =
      rollups(1h, {reading(0s, 20, 90), reading(5min, 20, 90), reading(15min, 30, 80)});
  ASSERT_EQ(found.size(), 1u);
  EXPECT_EQ(found[0].temperature.observed_ms, 5 * 60000);
  EXPECT_NEAR(found[0].temperature.spread()->mean, 20, 1e-12);
  EXPECT_EQ(found[0].temperature.spread()->high, 30);
  EXPECT_NEAR(rollups(1min, {reading(0s, 24, 91)})[0].humidity.spread()->mean, 91, 1e-12);
}

TEST(Rollup, what_is_bad_or_missing_is_a_gap) {
  auto bad = reading(10s, 99, 10);
  bad.quality = sensors::Quality::bad;
  auto half = reading(20s, 22, 90);
  half.humidity.reset();
  const auto found = rollups(1min, {bad, half});
  ASSERT_EQ(found.size(), 1u);
  EXPECT_EQ(found[0].temperature.count, 1);
  EXPECT_FALSE(found[0].humidity.spread());
}

TEST(Rollup, a_stretch_begins_at_whole_minutes_before_1970_too) {
  EXPECT_EQ(begin_of(sensors::Instant(-1ms), 1min), sensors::Instant(-60000ms));
  EXPECT_EQ(begin_of(sensors::Instant(60000ms), 1min), sensors::Instant(60000ms));
}

}  // namespace
}  // namespace takehold::daemon
