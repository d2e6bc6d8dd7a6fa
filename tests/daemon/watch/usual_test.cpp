#include "daemon/watch/usual.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace takehold::daemon {
namespace {

using namespace std::chrono_literals;

const sensors::Instant kStart{};

/// A saw tooth between 96 and 98 of twelve minutes, three up and nine down.
double tooth(int second) {
  const double at = std::fmod(second, 720.0);
  return at < 180 ? 96 + 2 * at / 180 : 98 - 2 * (at - 180) / 540;
}

void feed(Usual& usual, int from_minute, int minutes, double shift = 0) {
  for (int second = 60 * from_minute; second < 60 * (from_minute + minutes); second += 10) {
    const double slope = (tooth(second + 10) - tooth(second)) / 10;
    usual.see(kStart + second * 1s, tooth(second) + shift, slope, 0.02, false);
  }
}

TEST(Usual, nothing_is_judged_before_forty_minutes) {
  Usual usual({0.1});
  feed(usual, 0, 40);
  EXPECT_FALSE(usual.knows());
  feed(usual, 40, 5);
  EXPECT_TRUE(usual.knows());
}

TEST(Usual, marks_lie_at_the_turns_of_the_cycle) {
  Usual usual({0.1});
  feed(usual, 0, 240);
  EXPECT_NEAR(usual.low(), 96, 0.15);
  EXPECT_NEAR(usual.high(), 98, 0.15);
  EXPECT_LT(usual.below(), usual.low());
  EXPECT_GT(usual.below(), 95.4);
  EXPECT_LT(usual.above(), 98.6);
  EXPECT_NEAR(usual.mean(), 97, 0.1);
  EXPECT_NEAR(60 * usual.fall(), -2.0 / 9, 0.05);
  EXPECT_NEAR(60 * usual.rise(), 2.0 / 3, 0.1);
}

TEST(Usual, what_happens_beyond_the_marks_does_not_move_them) {
  Usual usual({0.1});
  feed(usual, 0, 180);
  const double before = usual.below();
  feed(usual, 180, 12, -6);
  feed(usual, 192, 60);
  EXPECT_NEAR(usual.below(), before, 0.1);
}

TEST(Usual, a_slow_slide_is_not_learnt_as_it_goes) {
  Usual usual({0.1});
  feed(usual, 0, 180);
  const double before = usual.below();
  for (int minute = 0; minute < 60; ++minute) feed(usual, 180 + minute, 1, -0.05 * minute);
  EXPECT_NEAR(usual.below(), before, 0.2);
}

TEST(Usual, another_set_point_is_learnt_within_an_hour_and_a_half) {
  Usual usual({0.1});
  feed(usual, 0, 180);
  feed(usual, 180, 90, -10);
  EXPECT_NEAR(usual.low(), 86, 0.3);
}

}  // namespace
}  // namespace takehold::daemon
