#include "client/growth/lived_warmth.hpp"

#include <gtest/gtest.h>

namespace takehold::client {
namespace {

using sensors::Celsius;
using std::chrono::hours;

const auto kSown = *sensors::parse_instant("2027-04-01T12:00:00Z");
const BenchCycle kWarm{Celsius::degc(24), Celsius::degc(20), 12};
const BenchCycle kCold{Celsius::degc(16), Celsius::degc(12), 12};

std::int64_t hour_of(sensors::Instant at) {
  return std::chrono::floor<hours>(at.time_since_epoch()).count();
}

TEST(LivedWarmth, a_probe_counts_for_the_past_and_the_sheet_for_the_rest) {
  Stay stay{kSown, kWarm, {}};
  for (int i = 0; i < 6; ++i) stay.logged.emplace(hour_of(kSown) + i, Celsius::degc(30));
  const auto now = kSown + hours(10);
  const LivedWarmth lived =
      lived_warmth({stay}, kSown, now, std::chrono::days(2), sensors::TimeZone::utc());
  EXPECT_EQ(lived.hourly.size(), 48U);
  EXPECT_EQ(lived.past_hours, 10);
  EXPECT_EQ(lived.logged_hours, 6);
  EXPECT_EQ(lived.missing_hours, 4);  // a gap: the sheet stands in
  EXPECT_EQ(lived.hourly[5], Celsius::degc(30));
  EXPECT_EQ(lived.hourly[6], Celsius::degc(20));   // 18:30, night
  EXPECT_EQ(lived.hourly[24], Celsius::degc(24));  // noon of the next day
}

TEST(LivedWarmth, carried_trays_have_the_warmth_of_where_they_stood) {
  const std::vector<Stay> stays{{kSown, kWarm, {}}, {kSown + hours(24), kCold, {}}};
  const LivedWarmth lived =
      lived_warmth(stays, kSown, kSown + hours(1), std::chrono::days(2), sensors::TimeZone::utc());
  EXPECT_EQ(lived.hourly[23], Celsius::degc(24));
  EXPECT_EQ(lived.hourly[24], Celsius::degc(16));
  EXPECT_EQ(lived.missing_hours, 0);  // no probe, so no gap either
}

TEST(LivedWarmth, day_and_night_follow_the_wall_clock) {
  const auto zone = *sensors::TimeZone::named("America/Denver");
  const auto lived = lived_warmth({{kSown, kWarm, {}}}, kSown, kSown, std::chrono::days(1), zone);
  EXPECT_EQ(lived.hourly[0], Celsius::degc(24));   // 06:30 there
  EXPECT_EQ(lived.hourly[13], Celsius::degc(20));  // 19:30
}

}  // namespace
}  // namespace takehold::client
