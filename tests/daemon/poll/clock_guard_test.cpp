#include "daemon/poll/clock_guard.hpp"

#include <gtest/gtest.h>

namespace takehold::daemon {
namespace {

using namespace std::chrono_literals;

const sensors::Instant kWall = sensors::parse_instant("2027-03-28T00:59:50Z").value();
const MonotoneTime kMonotone{std::chrono::hours(5)};

TEST(ClockGuard, time_that_passes_and_a_clock_that_is_slewed_are_no_step) {
  ClockGuard guard(kWall, kMonotone);
  EXPECT_FALSE(guard.look(kWall + 60s, kMonotone + 60s));
  EXPECT_FALSE(guard.look(kWall + 121s, kMonotone + 120s));  // 1 s gained in a minute
  EXPECT_FALSE(guard.look(kWall + 182s, kMonotone + 180s));  // each look counts from the last
}

TEST(ClockGuard, the_hour_of_summer_time_is_no_step) {
  ClockGuard guard(kWall, kMonotone);  // ten seconds before European clocks jump
  EXPECT_FALSE(guard.look(kWall + 20s, kMonotone + 20s));
}

TEST(ClockGuard, a_board_that_woke_in_1970_and_a_clock_set_back_are_told_by_how_much) {
  ClockGuard guard(sensors::Instant(30s), kMonotone);
  EXPECT_EQ(guard.look(kWall, kMonotone + 10s), kWall - sensors::Instant(40s));
  EXPECT_EQ(guard.look(kWall - 1h + 10s, kMonotone + 20s), -1h);
  EXPECT_FALSE(guard.look(kWall - 1h + 20s, kMonotone + 30s));
}

}  // namespace
}  // namespace takehold::daemon
