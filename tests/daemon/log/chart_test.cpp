#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "sensors/trace/trace.hpp"
#include "tests/daemon/log/readings.hpp"

namespace takehold::daemon {
namespace {

/// Two days of a chamber with pauses, jitter and late deliveries.
std::vector<sensors::Reading> two_days(unsigned seed) {
  std::mt19937 random(seed);
  std::vector<sensors::Reading> readings;
  for (auto at = 0ms; at < 48h; at += 20s + std::chrono::milliseconds(random() % 5000)) {
    if (at > 20h && at < 22h + 7min) continue;
    const double hours = double(at.count()) / 3.6e6;
    readings.push_back(reading(at, 24 + 3 * std::sin(hours), 92 + double(random() % 600) / 100));
  }
  return readings;
}

void write_in_rounds(LogInFolder& kept, std::vector<sensors::Reading> readings, unsigned seed) {
  std::mt19937 random(seed);
  std::vector<sensors::Reading> late;
  std::vector<sensors::Reading> round;
  for (const auto& one : readings) {
    if (random() % 40 == 0) {
      late.push_back(one);
    } else {
      round.push_back(one);
    }
    if (round.size() >= 200) kept.write(std::exchange(round, {}));
  }
  kept.write(round);
  kept.write(late);
}

std::vector<sensors::Bucket> expected(const std::vector<sensors::Reading>& readings,
                                      const BucketQuery& query) {
  std::vector<sensors::Sample> samples;
  for (const auto& one : readings) samples.push_back({one.at, one.temperature->degc()});
  return sensors::decimate(samples, {query.from, query.to}, query.points, 5min);
}

/// Against sensors/trace, which knows nothing of rollups. Borders lie on whole rollups, so that the
/// two must agree but for what is rounded on disk.
void compare(const BucketQuery& query, double least_observed_share = 0.999) {
  const auto readings = two_days(3);
  LogInFolder kept;
  write_in_rounds(kept, readings, 5);
  const auto found = open_log_reader(kept.file)->buckets(query).at(0);
  const auto wanted = expected(readings, query);
  ASSERT_EQ(found.size(), wanted.size());
  std::size_t compared = 0;
  for (std::size_t i = 0; i < found.size(); ++i) {
    SCOPED_TRACE(i);
    EXPECT_EQ(found[i].from, wanted[i].span.from);
    if (double(wanted[i].observed.count()) <
        least_observed_share * double((wanted[i].span.to - wanted[i].span.from).count())) {
      continue;
    }
    ASSERT_TRUE(found[i].temperature_degc);
    ++compared;
    // Readings are kept to 0.001 degC, so is a rollup's mean; borders count among the line's
    // extremes there and not here: at most what 25 s of 3 degC an hour can do, twice.
    EXPECT_NEAR(found[i].temperature_degc->mean, *wanted[i].mean, 0.002);
    EXPECT_NEAR(found[i].temperature_degc->low, *wanted[i].min, 0.045);
    EXPECT_NEAR(found[i].temperature_degc->high, *wanted[i].max, 0.045);
  }
  EXPECT_GT(compared, found.size() / 2);
}

TEST(Chart, raw_readings_agree_with_an_independent_count) {
  compare({{"left"}, kStart + 1h, kStart + 2h, 90});
}
TEST(Chart, minutes_agree_with_an_independent_count) {
  compare({{"left"}, kStart, kStart + 8h, 96});
}
TEST(Chart, ten_minutes_agree_with_an_independent_count) {
  compare({{"left"}, kStart, kStart + 48h, 96});
}
TEST(Chart, hours_agree_with_an_independent_count) {
  compare({{"left"}, kStart, kStart + 48h, 24}, 0.9);
}

TEST(Chart, a_pause_is_a_gap_at_every_level) {
  LogInFolder kept;
  write_in_rounds(kept, two_days(3), 5);
  const auto reader = open_log_reader(kept.file);
  for (const int points : {48, 288, 2000}) {
    SCOPED_TRACE(points);
    const auto found = reader->buckets({{"left"}, kStart, kStart + 48h, points}).at(0);
    const auto middle = std::size_t(points * 21 / 48);
    EXPECT_FALSE(found[middle].temperature_degc);
    EXPECT_TRUE(found[std::size_t(points * 10 / 48)].temperature_degc);
  }
}

TEST(Chart, the_newest_readings_show_before_their_minute_is_over) {
  LogInFolder kept;
  kept.write({reading(0s, 20, 90), reading(10s, 30, 90)});
  const auto found =
      open_log_reader(kept.file)->buckets({{"left", "right"}, kStart - 1h, kStart + 1h, 2});
  ASSERT_EQ(found.size(), 2u);
  EXPECT_FALSE(found[0][0].temperature_degc);
  ASSERT_TRUE(found[0][1].temperature_degc);
  EXPECT_NEAR(found[0][1].temperature_degc->mean, 25, 1e-9);
  EXPECT_EQ(found[0][1].temperature_degc->high, 30);
  EXPECT_FALSE(found[1][1].temperature_degc);
}

TEST(Chart, a_restart_in_the_middle_of_an_hour_changes_no_rollup) {
  const auto readings = two_days(3);
  LogInFolder once;
  once.write(readings);
  LogInFolder often;
  std::vector<sensors::Reading> round;
  for (const auto& one : readings) {
    round.push_back(one);
    if (round.size() < 333) continue;
    often.write(std::exchange(round, {}));
    often.open();
  }
  often.write(round);
  const auto rollups = [](const LogInFolder& kept, const char* table) {
    return takehold::testing::output_of("sqlite3 '" + kept.file + "' 'SELECT * FROM " + table +
                                        "'");
  };
  for (const char* table : {"rollup_minute", "rollup_ten_minutes", "rollup_hour"}) {
    EXPECT_TRUE(rollups(once, table) == rollups(often, table)) << table;
    EXPECT_GT(rollups(once, table).size(), 1000u);
  }
}

}  // namespace
}  // namespace takehold::daemon
