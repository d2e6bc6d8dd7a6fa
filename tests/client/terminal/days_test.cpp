#include "client/terminal/days.hpp"

#include <gtest/gtest.h>

namespace takehold::client {
namespace {

TEST(Days, stand_in_the_readers_order) {
  const auto day = *sensors::parse_day("2027-04-12");
  EXPECT_EQ(shown(day, DateOrder::year_first), "2027-04-12");
  EXPECT_EQ(shown(day, DateOrder::day_first), "12.04.2027");
  EXPECT_EQ(shown(day, DateOrder::month_first), "04/12/2027");
  EXPECT_EQ(shown_with_weekday(day, DateOrder::day_first), "Mon 12.04.2027");
}

// Lisbon's clocks went from 01:00 to 02:00 on 28 March 2027 at 01:00 UTC (the last Sunday of March,
// Directive 2000/84/EC).
TEST(Days, moments_follow_the_wall_clock_over_a_change_of_time) {
  const auto zone = *sensors::TimeZone::named("Europe/Lisbon");
  const auto text = [&](const char* instant) {
    return shown(*sensors::parse_instant(instant), zone, DateOrder::month_first);
  };
  EXPECT_EQ(text("2027-03-28T00:59:00Z"), "03/28/2027 00:59");
  EXPECT_EQ(text("2027-03-28T01:00:00Z"), "03/28/2027 02:00");
  EXPECT_EQ(text("2027-06-30T23:30:00Z"), "07/01/2027 00:30");
}

}  // namespace
}  // namespace takehold::client
