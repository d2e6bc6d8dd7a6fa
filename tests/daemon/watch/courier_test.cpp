#include "daemon/watch/courier.hpp"

#include <gtest/gtest.h>

namespace takehold::daemon {
namespace {

using namespace std::chrono_literals;

const sensors::Instant kStart{};

TEST(Courier, what_arrived_is_never_sent_again) {
  Courier courier;
  courier.offer("a", kStart);
  courier.offer("b", kStart);
  ASSERT_NE(courier.due(kStart), nullptr);
  EXPECT_EQ(courier.due(kStart)->body, "a");
  courier.sent(true, kStart);
  EXPECT_EQ(courier.due(kStart)->body, "b");
  courier.sent(true, kStart);
  EXPECT_EQ(courier.due(kStart + 1h), nullptr);
  EXPECT_FALSE(courier.next());
}

TEST(Courier, failures_are_tried_again_with_growing_pauses) {
  Courier courier;
  courier.offer("a", kStart);
  auto now = kStart;
  for (const auto pause : {10s, 20s, 40s, 80s, 160s, 320s, 640s, 900s, 900s}) {
    ASSERT_NE(courier.due(now), nullptr);
    courier.sent(false, now);
    EXPECT_EQ(courier.due(now + pause - 1s), nullptr);
    now += pause;
    EXPECT_EQ(*courier.next(), now);
  }
}

TEST(Courier, after_a_day_it_is_given_up_and_the_next_goes_out) {
  Courier courier;
  courier.offer("a", kStart);
  courier.offer("b", kStart + 23h);
  ASSERT_NE(courier.due(kStart + 25h), nullptr);
  courier.sent(false, kStart + 25h);
  ASSERT_NE(courier.due(kStart + 25h), nullptr);
  EXPECT_EQ(courier.due(kStart + 25h)->body, "b");
}

TEST(Courier, a_flood_is_one_message_that_counts_and_holds_the_newest) {
  Courier courier;
  for (int i = 0; i < 30; ++i) courier.offer(std::to_string(i), kStart + i * 1s);
  EXPECT_EQ(courier.waiting(), 1u);
  EXPECT_EQ(courier.due(kStart + 30s), nullptr) << "gathered for a minute";
  const auto* parcel = courier.due(kStart + 2min);
  ASSERT_NE(parcel, nullptr);
  EXPECT_EQ(parcel->count, 30);
  EXPECT_EQ(parcel->body, "29");
}

TEST(Courier, a_flood_while_one_is_on_its_way_loses_nothing) {
  Courier courier;
  courier.offer("first", kStart);
  ASSERT_NE(courier.due(kStart), nullptr);
  for (int i = 0; i < 30; ++i) courier.offer(std::to_string(i), kStart + 1s);
  courier.sent(false, kStart + 2s);
  EXPECT_EQ(courier.waiting(), 2u);
  EXPECT_EQ(courier.due(kStart + 5min)->body, "first");
  courier.sent(true, kStart + 5min);
  EXPECT_EQ(courier.due(kStart + 5min)->count, 30);
}

TEST(Courier, ten_in_ten_minutes_are_no_flood) {
  Courier courier;
  for (int i = 0; i < 40; ++i) courier.offer(std::to_string(i), kStart + i * 61s);
  EXPECT_EQ(courier.waiting(), 40u);
}

}  // namespace
}  // namespace takehold::daemon
