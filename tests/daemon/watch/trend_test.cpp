#include "daemon/watch/trend.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "sensors/sim/dice.hpp"

namespace takehold::daemon {
namespace {

using namespace std::chrono_literals;

const sensors::Instant kStart{};
constexpr TrendOptions kHumidity{4e-9, 0.2, 0.02};

struct Fed {
  Trend trend{kHumidity};
  sensors::Dice dice{7};
  int rounds = 0;

  void feed(double from, double a_minute, int minutes, double noise) {
    for (int i = 0; i < 6 * minutes; ++i, ++rounds) {
      trend.see(kStart + rounds * 10s, from + a_minute * i / 6 + noise * dice.noise());
    }
  }
};

TEST(Trend, a_steady_fall_is_found_within_its_own_doubt) {
  for (std::uint64_t seed = 1; seed <= 50; ++seed) {
    Fed fed;
    fed.dice = sensors::Dice(seed);
    fed.feed(97, -0.2, 20, 0.1);
    EXPECT_NEAR(fed.trend.slope(), -0.2 / 60, 5 * fed.trend.slope_sd()) << seed;
    EXPECT_NEAR(fed.trend.level(), 97 - 0.2 * 119 / 6, 5 * fed.trend.level_sd()) << seed;
  }
}

// Second differences of a parabola are not zero, of a line they are: no motion may count as noise.
TEST(Trend, it_learns_the_noise_of_the_probe_from_a_moving_level) {
  for (const double noise : {0.05, 0.1, 0.4}) {
    Fed fed;
    fed.feed(97, -0.5, 60, noise);
    EXPECT_NEAR(fed.trend.noise(), noise, 0.35 * noise);
  }
}

TEST(Trend, after_a_kink_the_old_slope_is_forgotten_within_two_minutes) {
  Fed fed;
  fed.feed(97, 0.3, 20, 0.05);
  fed.feed(103, -0.3, 2, 0.05);
  EXPECT_LT(fed.trend.slope(), -0.1 / 60);
}

TEST(Trend, one_wild_reading_moves_nothing) {
  Fed fed;
  fed.feed(97, 0, 20, 0.05);
  const double before = fed.trend.level();
  fed.trend.see(kStart + fed.rounds * 10s, 60);
  EXPECT_NEAR(fed.trend.level(), before, 0.02);
}

TEST(Trend, after_a_long_gap_it_begins_anew) {
  Fed fed;
  fed.feed(97, -0.3, 20, 0.05);
  fed.trend.see(kStart + 2h, 50);
  EXPECT_EQ(fed.trend.level(), 50);
  EXPECT_EQ(fed.trend.slope(), 0);
  EXPECT_FALSE(fed.trend.knows());
}

}  // namespace
}  // namespace takehold::daemon
