#include "daemon/watch/excursion.hpp"

#include <gtest/gtest.h>

namespace takehold::daemon {
namespace {

using namespace std::chrono_literals;
using sensors::Instant;
using Verdict = Excursion::Verdict;

const Instant kStart{};

TEST(Excursion, air_outside_for_the_whole_delay_is_said_once) {
  Excursion excursion(60s);
  int raised = 0;
  for (int i = 0; i <= 30; ++i) {
    const auto verdict = excursion.see(kStart + i * 10s, Place::below);
    EXPECT_EQ(verdict == Verdict::raised, i == 6) << i;
    raised += verdict == Verdict::raised;
  }
  EXPECT_EQ(raised, 1);
}

TEST(Excursion, a_short_look_inside_is_not_said) {
  Excursion excursion(60s);
  for (int i = 0; i < 5; ++i) {
    EXPECT_EQ(excursion.see(kStart + i * 100s, Place::below), Verdict::nothing);
    EXPECT_EQ(excursion.see(kStart + i * 100s + 50s, Place::low_edge), Verdict::nothing);
  }
  EXPECT_FALSE(excursion.due());
}

TEST(Excursion, the_delay_ends_by_itself_when_no_value_comes) {
  Excursion excursion(60s);
  excursion.see(kStart, Place::above);
  ASSERT_EQ(excursion.due(), kStart + 60s);
  EXPECT_EQ(excursion.wait(kStart + 59s), Verdict::nothing);
  EXPECT_EQ(excursion.wait(kStart + 60s), Verdict::raised);
}

TEST(Excursion, changing_sides_starts_the_delay_anew) {
  Excursion excursion(60s);
  excursion.see(kStart, Place::above);
  EXPECT_EQ(excursion.see(kStart + 60s, Place::below), Verdict::nothing);
  EXPECT_EQ(excursion.see(kStart + 120s, Place::below), Verdict::raised);
}

TEST(Excursion, it_clears_past_the_edge_of_the_limit_it_left_and_only_there) {
  Excursion excursion(0s);
  ASSERT_EQ(excursion.see(kStart, Place::below), Verdict::raised);
  EXPECT_EQ(excursion.see(kStart + 10s, Place::low_edge), Verdict::nothing);
  EXPECT_EQ(excursion.see(kStart + 20s, Place::below), Verdict::nothing);
  EXPECT_EQ(excursion.see(kStart + 30s, Place::high_edge), Verdict::cleared);
  const auto later = kStart + 2h;
  ASSERT_EQ(excursion.see(later, Place::above), Verdict::raised);
  EXPECT_EQ(excursion.see(later + 10s, Place::high_edge), Verdict::nothing);
  EXPECT_EQ(excursion.see(later + 20s, Place::low_edge), Verdict::cleared);
}

TEST(Excursion, air_that_keeps_coming_back_over_its_limit_is_one_trouble) {
  Excursion excursion(60s);
  int raised = 0, cleared = 0;
  for (auto at = kStart; at < kStart + 3h; at += 10s) {
    const bool out = (at - kStart) % 10min < 4min;  // ten minutes to and fro
    const auto verdict = excursion.see(at, out ? Place::below : Place::inside);
    raised += verdict == Verdict::raised;
    cleared += verdict == Verdict::cleared;
  }
  EXPECT_EQ(raised, 2);
  EXPECT_EQ(cleared, 1);
  const auto end = kStart + 3h;
  EXPECT_EQ(excursion.see(end + 10min, Place::inside), Verdict::nothing);
  EXPECT_EQ(excursion.see(end + 25min, Place::inside), Verdict::cleared);
}

TEST(Excursion, unknown_air_neither_counts_towards_the_delay_nor_clears) {
  Excursion excursion(60s);
  excursion.see(kStart, Place::below);
  excursion.see(kStart + 30s, Place::unknown);
  EXPECT_EQ(excursion.see(kStart + 60s, Place::below), Verdict::nothing);
  EXPECT_EQ(excursion.see(kStart + 120s, Place::below), Verdict::raised);
  EXPECT_EQ(excursion.see(kStart + 130s, Place::unknown), Verdict::nothing);
  EXPECT_TRUE(excursion.standing());
}

TEST(Excursion, when_nothing_is_asked_for_any_more_it_clears) {
  Excursion excursion(0s);
  excursion.see(kStart, Place::below);
  EXPECT_EQ(excursion.see(kStart + 1s, Place::free), Verdict::cleared);
}

}  // namespace
}  // namespace takehold::daemon
