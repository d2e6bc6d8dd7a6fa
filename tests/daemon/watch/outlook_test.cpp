#include "daemon/watch/outlook.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace takehold::daemon {
namespace {

using namespace std::chrono_literals;

const sensors::Instant kStart{};

struct Way {
  Path path;
  Motion motion{};
};

/// `minutes` along level(minute), a point every 10 s.
template <class Level>
Way along(Level level, double minutes) {
  Way way;
  for (int i = 0; i <= 6 * minutes; ++i) way.path.see(kStart + i * 10s, level(i / 6.0));
  way.motion.level = level(minutes);
  way.motion.slope = (level(minutes) - level(minutes - 0.1)) / 6;
  way.motion.level_sd = 0.02;
  way.motion.slope_sd = 2e-4;
  way.motion.noise = 0.02;
  return way;
}

TEST(Outlook, a_straight_fall_passes_the_limit_when_the_line_does) {
  const auto way = along([](double m) { return 97 - 0.1 * m; }, 10);
  const auto ahead = outlook(way.motion, way.path, 95, true, 30min);
  ASSERT_TRUE(ahead);
  EXPECT_NEAR(ahead->until / 1s, 600, 30);
  EXPECT_GT(ahead->probability, 0.95);
}

// T(t) = 18 + 7 exp(-t / 40 min): after ten minutes 23.45, at 22.0 after 22.38 minutes.
TEST(Outlook, an_exponential_is_not_taken_for_a_line) {
  const auto way = along([](double m) { return 18 + 7 * std::exp(-m / 40); }, 10);
  const auto ahead = outlook(way.motion, way.path, 22, true, 30min);
  ASSERT_TRUE(ahead);
  EXPECT_NEAR(ahead->until / 1s, 743, 60);
}

TEST(Outlook, what_comes_to_rest_before_the_limit_never_passes_it) {
  const auto way = along([](double m) { return 24 + std::exp(-m / 3); }, 8);
  EXPECT_FALSE(outlook(way.motion, way.path, 22, true, 30min));
}

TEST(Outlook, what_moves_away_has_none) {
  const auto way = along([](double m) { return 96 + 0.1 * m; }, 8);
  EXPECT_FALSE(outlook(way.motion, way.path, 95, true, 30min));
  EXPECT_TRUE(outlook(way.motion, way.path, 98, false, 30min));
}

TEST(Outlook, a_breach_at_the_horizon_is_as_likely_as_not) {
  const auto way = along([](double m) { return 97 - 0.05 * m; }, 10);
  const auto ahead = outlook(way.motion, way.path, 96.5 - 1.5, true, 30min);
  ASSERT_TRUE(ahead);
  EXPECT_NEAR(ahead->probability, 0.5, 0.15);
}

TEST(Path, a_fall_that_begins_within_the_stretch_counts_from_there) {
  const auto way = along([](double m) { return m < 8 ? 25 - 0.002 * m : 25 - 0.1 * (m - 8); }, 14);
  const auto pace = way.path.pace(true, 0.01);
  ASSERT_TRUE(pace);
  EXPECT_NEAR(60 * pace->speed, 0.1, 0.02);
}

}  // namespace
}  // namespace takehold::daemon
