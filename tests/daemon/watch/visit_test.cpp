#include "daemon/watch/visit.hpp"

#include <gtest/gtest.h>

namespace takehold::daemon {
namespace {

using namespace std::chrono_literals;

const sensors::Instant kStart{};

/// Rounds of ten seconds from `from` up to `to`; what the last answered.
bool run(Visit& visit, std::chrono::seconds from, std::chrono::seconds to, Haste haste,
         bool as_usual) {
  bool disturbed = false;
  for (auto at = from; at < to; at += 10s) disturbed = visit.see(kStart + at, haste, as_usual);
  return disturbed;
}

TEST(Visit, nobody_was_there) {
  Visit visit;
  EXPECT_FALSE(run(visit, 0s, 2h, Haste::none, false));
  EXPECT_FALSE(visit.since());
  EXPECT_FALSE(visit.recovering(kStart + 2h));
}

TEST(Visit, an_opening_is_over_when_the_air_has_been_itself_for_a_while) {
  Visit visit;
  EXPECT_TRUE(run(visit, 0s, 2min, Haste::loss, false));
  EXPECT_TRUE(run(visit, 2min, 12min, Haste::gain, false));
  EXPECT_TRUE(visit.recovering(kStart + 12min));
  run(visit, 12min, 16min, Haste::none, true);
  EXPECT_TRUE(visit.recovering(kStart + 16min)) << "a moment in passing is not rest";
  run(visit, 16min, 18min, Haste::none, true);
  EXPECT_FALSE(visit.recovering(kStart + 18min));
  EXPECT_EQ(visit.since(), kStart) << "its aftermath teaches nothing";
  EXPECT_FALSE(run(visit, 18min, 40min, Haste::none, true));
  EXPECT_FALSE(visit.since());
}

TEST(Visit, water_lost_anew_is_another_visit_though_the_first_is_not_over) {
  Visit visit;
  run(visit, 0s, 2min, Haste::loss, false);
  run(visit, 2min, 12min, Haste::gain, false);
  run(visit, 12min, 13min, Haste::loss, false);
  EXPECT_EQ(visit.since(), kStart + 12min);
}

TEST(Visit, air_that_never_comes_back_is_judged_after_three_quarters_of_an_hour) {
  Visit visit;
  run(visit, 0s, 2min, Haste::loss, false);
  run(visit, 2min, 50min, Haste::none, false);
  EXPECT_FALSE(visit.recovering(kStart + 50min));
}

}  // namespace
}  // namespace takehold::daemon
