#include "client/command/past_window.hpp"

#include <gtest/gtest.h>

namespace takehold::client {
namespace {

using namespace std::chrono_literals;
using daemon::ReadingBucket;
using daemon::ReadingsMessage;

const sensors::Instant kNow = sensors::parse_instant("2027-04-12T09:01:07Z").value();

/// What a daemon answers whose air is `celsius` in all the asked columns.
ReadingsMessage answer(const ReadingsWanted& wanted, double celsius,
                       const std::vector<std::string>& probes = {"left"}) {
  ReadingsMessage message{wanted.from, wanted.to, (wanted.to - wanted.from) / wanted.points, {}};
  const auto t = sensors::Celsius::degc(celsius);
  for (const auto& probe : probes) {
    message.probes.push_back({probe, {}});
    for (int i = 0; i < wanted.points; ++i) {
      message.probes.back().buckets.push_back(
          {wanted.from + i * message.step, daemon::Spread<sensors::Celsius>{t, t, t}, {}});
    }
  }
  return message;
}

std::vector<double> means(const ReadingsMessage& message) {
  std::vector<double> all;
  for (const auto& bucket : message.probes.front().buckets) {
    all.push_back(bucket.temperature->mean.degc());
  }
  return all;
}

TEST(PastWindow, holds_now_in_its_last_column_on_a_grid_that_stays) {
  const auto window = past_window(6h, 72, kNow);
  EXPECT_EQ(window.step, 5min);
  EXPECT_EQ(window.to, sensors::parse_instant("2027-04-12T09:05:00Z").value());
  EXPECT_EQ(window.from(), window.to - 6h);
  EXPECT_EQ(past_window(6h, 72, kNow + 2min).to, window.to);
  EXPECT_EQ(past_window(6h, 72, window.to).to, window.to + 5min);
}

TEST(PastWindow, asks_for_all_at_first_and_then_for_what_may_have_changed) {
  const auto window = past_window(6h, 72, kNow);
  const auto first = missing_of(window, std::nullopt);
  EXPECT_EQ(first.points, 72);
  auto past = moved_on(window, std::nullopt, answer(first, 20));
  ASSERT_TRUE(past);

  const auto again = missing_of(window, past);
  EXPECT_EQ(again.points, 1);  // the column that fills up
  past = moved_on(window, past, answer(again, 21));
  ASSERT_TRUE(past);
  EXPECT_EQ(means(*past).size(), 72U);
  EXPECT_EQ(means(*past).back(), 21);

  const auto later = past_window(6h, 72, kNow + 10min);
  const auto two_more = missing_of(later, past);
  EXPECT_EQ(two_more.points, 3);
  EXPECT_EQ(two_more.to, later.to);
  past = moved_on(later, past, answer(two_more, 22));
  ASSERT_TRUE(past);
  EXPECT_EQ(past->from, later.from());
  auto expected = std::vector<double>(69, 20);
  expected.insert(expected.end(), 3, 22);
  EXPECT_EQ(means(*past), expected);
  const auto& buckets = past->probes.front().buckets;
  for (std::size_t i = 0; i < buckets.size(); ++i) {
    EXPECT_EQ(buckets[i].at, later.from() + int(i) * later.step);
  }
}

TEST(PastWindow, asks_for_all_again_when_the_columns_or_the_clock_or_the_pause_are_others) {
  const auto window = past_window(6h, 72, kNow);
  const auto past = answer(missing_of(window, std::nullopt), 20);
  EXPECT_EQ(missing_of(past_window(12h, 72, kNow), past).points, 72);
  EXPECT_EQ(missing_of(past_window(6h, 100, kNow), past).points, 100);
  EXPECT_EQ(missing_of(past_window(6h, 72, kNow - 1h), past).points, 72);
  EXPECT_EQ(missing_of(past_window(6h, 72, kNow + 7h), past).points, 72);
}

TEST(PastWindow, probes_that_came_do_not_fit) {
  const auto window = past_window(6h, 72, kNow);
  const auto past = answer(missing_of(window, std::nullopt), 20);
  EXPECT_FALSE(moved_on(window, past, answer(missing_of(window, past), 20, {"left", "right"})));
  EXPECT_FALSE(moved_on(window, past, answer(missing_of(window, past), 20, {"other"})));
}

}  // namespace
}  // namespace takehold::client
