#include "sensors/trace/axis.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "sensors/trace/band.hpp"

namespace takehold::sensors {
namespace {

TimeSpan span(const char* from, const char* to) {
  return {parse_instant(from).value(), parse_instant(to).value()};
}

TEST(ValueTicks, fall_on_round_numbers) {
  const auto ticks = value_ticks({21.3, 28.9}, 5);
  EXPECT_EQ(ticks.step, 2.0);
  EXPECT_EQ(ticks.decimals, 0);
  EXPECT_EQ(ticks.at, (std::vector<double>{22, 24, 26, 28}));
}

TEST(ValueTicks, include_both_ends_and_say_their_decimals) {
  const auto ticks = value_ticks({0.0, 0.3}, 4);
  ASSERT_EQ(ticks.at.size(), 4u);
  EXPECT_EQ(ticks.decimals, 1);
  EXPECT_NEAR(ticks.at.back(), 0.3, 1e-12);
}

TEST(ValueTicks, are_never_too_many_and_never_none) {
  for (double low = -50.0; low < 50.0; low += 7.3) {
    for (double width = 0.0; width < 300.0; width = width * 1.7 + 0.013) {
      for (const int most : {2, 3, 5, 9}) {
        const auto ticks = value_ticks({low, low + width}, most);
        EXPECT_LE(int(ticks.at.size()), most);
        EXPECT_GE(ticks.at.size(), 1u) << low << " +" << width << " most " << most;
      }
    }
  }
}

TEST(TimeTicks, stand_on_the_wall_clock_of_the_zone) {
  const auto kolkata = TimeZone::named("Asia/Kolkata").value();  // UTC+5:30
  const auto ticks = time_ticks(span("2027-04-12T00:10:00Z", "2027-04-12T12:10:00Z"), 6, kolkata);
  EXPECT_EQ(ticks.step, std::chrono::hours(2));
  ASSERT_FALSE(ticks.at.empty());
  EXPECT_EQ(kolkata.local_clock(ticks.at.front()), "06:00");
}

TEST(TimeTicks, a_skipped_hour_is_marked_once) {
  // Lisbon's clocks went from 01:00 to 02:00 on 2027-03-28.
  const auto lisbon = TimeZone::named("Europe/Lisbon").value();
  const auto ticks = time_ticks(span("2027-03-28T00:00:00Z", "2027-03-28T04:00:00Z"), 8, lisbon);
  for (std::size_t i = 1; i < ticks.at.size(); ++i) EXPECT_LT(ticks.at[i - 1], ticks.at[i]);
}

TEST(TimeTicks, a_fortnight_is_marked_by_days) {
  const auto ticks =
      time_ticks(span("2027-04-12T00:00:00Z", "2027-04-26T00:00:00Z"), 7, TimeZone::utc());
  EXPECT_EQ(ticks.step, std::chrono::hours(48));
  EXPECT_EQ(ticks.at.size(), 7u);
}

TEST(Bands, limits_are_allowed_and_spans_are_half_open) {
  EXPECT_EQ(side_of(95.0, {95.0, 100.0}), Side::inside);
  EXPECT_EQ(side_of(94.99, {95.0, 100.0}), Side::below);
  EXPECT_EQ(side_of(29.01, {22.0, 29.0}), Side::above);
  const auto first = span("2027-04-12T00:00:00Z", "2027-04-15T00:00:00Z");
  const auto second = span("2027-04-15T00:00:00Z", "2027-04-16T00:00:00Z");
  const std::vector<BandSpan> bands{{first, {95.0, 100.0}}, {second, {90.0, 100.0}}};
  EXPECT_EQ(band_at(bands, first.to)->low, 90.0);
  EXPECT_FALSE(band_at(bands, second.to).has_value());
}

TEST(Bands, an_axis_shows_values_and_bands) {
  std::vector<Bucket> buckets(2);
  buckets[0].min = 88.0;
  buckets[0].max = 97.0;
  const auto day = span("2027-04-12T00:00:00Z", "2027-04-13T00:00:00Z");
  const std::vector<BandSpan> bands{{day, {95.0, 100.0}}};
  EXPECT_EQ(range_of(buckets, bands)->low, 88.0);
  EXPECT_EQ(range_of(buckets, bands)->high, 100.0);
  EXPECT_FALSE(range_of({}, {}).has_value());
}

}  // namespace
}  // namespace takehold::sensors
