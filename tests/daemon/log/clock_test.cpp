// A board without a battery for its clock wakes in 1970 and learns the time later.
#include <gtest/gtest.h>

#include "tests/daemon/log/readings.hpp"

namespace takehold::daemon {
namespace {

const sensors::Instant kDawn{};

sensors::Reading at(sensors::Instant when, double warm) {
  auto one = reading(0s, warm, 90);
  one.at = when;
  return one;
}

std::string sql(const LogInFolder& kept, const std::string& query) {
  return takehold::testing::output_of("sqlite3 '" + kept.file + "' \"" + query + "\"");
}

/// Ten minutes by a clock that is not set, then the time: kStart is ten seconds after the last.
void wake_in_1970(LogInFolder& kept) {
  for (auto later = 0s; later < 600s; later += 10s) {
    kept.write({at(kDawn + later, 20 + double(later.count()) / 100)});
  }
  kept.log->note_clock_step(kStart, kStart - (kDawn + 600s));
}

TEST(ClockNeverSet, readings_are_dated_anew_and_none_is_lost) {
  LogInFolder kept;
  kept.write({reading(-48h, 25, 90)});  // of a time when all was well
  kept.open();
  wake_in_1970(kept);
  kept.write({reading(0s, 27, 91)});
  kept.open();
  kept.write({reading(10s, 28, 92)});
  const auto reader = open_log_reader(kept.file);
  EXPECT_TRUE(reader->readings("left", kDawn - 1h, kDawn + 24h * 365).empty());
  const auto found = reader->readings("left", kStart - 1h, kStart + 1h);
  ASSERT_EQ(found.size(), 62u);
  for (std::size_t i = 1; i < found.size(); ++i) {
    EXPECT_EQ(found[i].reading.at - found[i - 1].reading.at, 10s) << i;
  }
  EXPECT_EQ(reader->readings("left", kStart - 49h, kStart - 47h).size(), 1u);
  EXPECT_EQ(sql(kept, "SELECT past_row - first_row, by_ms > 0 FROM redated"), "60|1\n");
}

TEST(ClockNeverSet, what_was_gathered_by_the_wrong_time_is_gathered_anew) {
  LogInFolder kept;
  wake_in_1970(kept);
  for (auto later = 0s; later < 3600s; later += 10s) kept.write({reading(later, 26, 90)});
  const auto born_right = [] {
    LogInFolder right;
    for (auto later = 0s; later < 600s; later += 10s) {
      right.write({reading(later - 600s, 20 + double(later.count()) / 100, 90)});
    }
    for (auto later = 0s; later < 3600s; later += 10s) right.write({reading(later, 26, 90)});
    return std::array{sql(right, "SELECT * FROM rollup_minute"),
                      sql(right, "SELECT * FROM rollup_hour")};
  }();
  EXPECT_EQ(sql(kept, "SELECT * FROM rollup_minute"), born_right[0]);
  EXPECT_EQ(sql(kept, "SELECT * FROM rollup_hour"), born_right[1]);
}

TEST(ClockNeverSet, a_restart_before_the_time_is_known_leaves_what_came_before_it_in_1970) {
  LogInFolder kept;
  kept.write({at(kDawn + 5s, 20)});
  kept.open();
  kept.write({at(kDawn + 30s, 21)});
  kept.log->note_clock_step(kStart, kStart - (kDawn + 40s));
  const auto reader = open_log_reader(kept.file);
  EXPECT_EQ(reader->readings("left", kDawn, kDawn + 1h).size(), 1u);
  const auto found = reader->readings("left", kStart - 1h, kStart);
  ASSERT_EQ(found.size(), 1u);
  EXPECT_EQ(found[0].reading.at, kStart - 10s);
}

TEST(ClockNeverSet, a_clock_that_was_set_and_is_set_again_changes_no_time) {
  LogInFolder kept;
  kept.write({reading(0s, 20, 90)});
  kept.log->note_clock_step(kStart + 24h, 24h);
  EXPECT_EQ(kept.all("left").at(0).reading.at, kStart);
  EXPECT_EQ(sql(kept, "SELECT count(*) FROM redated"), "0\n");
}

}  // namespace
}  // namespace takehold::daemon
