#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <random>

#include "daemon/healing/asks.hpp"

namespace takehold::daemon {
namespace {

using namespace std::chrono_literals;
using sensors::Celsius;
using sensors::RelativeHumidity;
using testing::ElementsAre;

const sensors::Instant kStart = sensors::parse_instant("2027-04-12T00:00:00Z").value();

BatchAsks batch(const char* label, int day, double low, double high) {
  BatchAsks made{label, kStart + std::chrono::days(day), {}};
  made.asks.humidity =
      Band<RelativeHumidity>{RelativeHumidity::pct(low), RelativeHumidity::pct(high)};
  return made;
}
SharedAsks shared(std::vector<BatchAsks> batches) {
  return shared_asks(batches);
}

TEST(SharedAsks, nobody_asks_nothing) {
  EXPECT_FALSE(shared({}).humidity);
  EXPECT_TRUE(shared({}).conflicts.empty());
}

TEST(SharedAsks, one_batch_gets_its_band_and_its_middle) {
  const auto both = shared({batch("G1", 0, 90, 100)});
  EXPECT_EQ(both.humidity->band, batch("", 0, 90, 100).asks.humidity);
  EXPECT_EQ(both.humidity->aim.pct(), 95.0);
  EXPECT_FALSE(both.temperature);
}

// By hand: 80-95 of the elder and 90-100 of the younger overlap in 90-95; the younger's middle is
// 95, which lies in it.
TEST(SharedAsks, two_batches_share_the_overlap_and_lean_to_the_younger) {
  const auto both = shared({batch("G1", 0, 80, 95), batch("G2", 3, 90, 100)});
  EXPECT_EQ(both.humidity->band.low.pct(), 90.0);
  EXPECT_EQ(both.humidity->band.high.pct(), 95.0);
  EXPECT_EQ(both.humidity->aim.pct(), 95.0);
  // The other way round the younger's middle, 87.5, is brought to the nearest point.
  EXPECT_EQ(shared({batch("G1", 3, 80, 95), batch("G2", 0, 90, 100)}).humidity->aim.pct(), 90.0);
}

TEST(SharedAsks, when_bands_do_not_meet_the_younger_rules_and_both_are_named) {
  const auto both = shared({batch("G1", 0, 60, 80), batch("G2", 3, 90, 100)});
  EXPECT_EQ(both.humidity->band.low.pct(), 90.0);
  EXPECT_THAT(both.conflicts, ElementsAre(AskConflict{"humidity", "G2", "G1"}));
}

TEST(SharedAsks, bands_that_touch_in_a_point_do_not_meet) {
  EXPECT_EQ(shared({batch("G1", 0, 60, 90), batch("G2", 3, 90, 100)}).conflicts.size(), 1u);
}

TEST(SharedAsks, the_conflict_names_the_youngest_one_it_collides_with) {
  // 75-85 meets 80-100, but not the 86-100 which that one shares with the second.
  const auto all =
      shared({batch("G1", 0, 75, 85), batch("G2", 1, 86, 100), batch("G3", 2, 80, 100)});
  EXPECT_THAT(all.conflicts, ElementsAre(AskConflict{"humidity", "G2", "G1"}));
}

/// Two at a time and all at once, whatever the order they are given in.
TEST(SharedAsks, promises_hold_for_random_batches) {
  std::mt19937 random(12);
  for (int round = 0; round < 2000; ++round) {
    std::vector<BatchAsks> batches;
    for (int i = 0; i < 4; ++i) {
      const double low = 60.0 + static_cast<double>(random() % 35);
      batches.push_back(batch(("G" + std::to_string(i)).c_str(), static_cast<int>(random() % 10),
                              low, low + 1 + static_cast<double>(random() % 20)));
    }
    const auto first = shared(batches);
    const auto youngest = std::max_element(
        batches.begin(), batches.end(), [](const BatchAsks& a, const BatchAsks& b) {
          return std::pair(a.entered_at, b.label) < std::pair(b.entered_at, a.label);
        });
    EXPECT_TRUE(youngest->asks.humidity->holds(first.humidity->aim));
    EXPECT_TRUE(first.humidity->band.holds(first.humidity->aim));
    for (const auto& one : batches) {
      const bool named = std::any_of(first.conflicts.begin(), first.conflicts.end(),
                                     [&](const AskConflict& c) { return c.older == one.label; });
      if (named) continue;
      EXPECT_GE(first.humidity->band.low, one.asks.humidity->low);
      EXPECT_LE(first.humidity->band.high, one.asks.humidity->high);
    }
    std::shuffle(batches.begin(), batches.end(), random);
    EXPECT_EQ(shared(batches).humidity->band, first.humidity->band);
    EXPECT_EQ(shared(batches).conflicts, first.conflicts);
  }
}

}  // namespace
}  // namespace takehold::daemon
