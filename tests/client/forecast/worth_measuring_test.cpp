#include "client/forecast/worth_measuring.hpp"

#include <gtest/gtest.h>

#include "tests/client/forecast/measuring_gain.hpp"

namespace takehold::client {
namespace {

TEST(WorthMeasuring, nothing_is_suggested_where_nothing_stands_and_never_more_than_stand) {
  auto known = MeasuringWorld(1).draw();
  known.request.trays[0].state.standing = 0;
  known.request.trays[1].state.standing = 2;
  const auto all = worth_measuring(known.request, {100, 0});
  ASSERT_EQ(all.size(), 4u);
  EXPECT_EQ(all[0].stems, 0);
  EXPECT_LE(all[1].stems, 2);
  for (const StemsToMeasure& one : all) EXPECT_LE(one.stems, one.standing);
}

TEST(WorthMeasuring, every_stem_measured_makes_the_day_surer_and_the_first_most) {
  const auto known = MeasuringWorld(2).draw();
  double before = 0, last_gain = 1e9;
  for (const int most : {0, 2, 4, 8, 16}) {
    double after = 0;
    int stems = 0;
    for (const StemsToMeasure& one : worth_measuring(known.request, {most, 0})) {
      EXPECT_LE(one.sd_after_days, one.sd_before_days + 1e-9);
      const double importance = one.tray == 0 ? 3 : 1;  // the rootstocks serve all three pairings
      after += importance * one.sd_after_days * one.sd_after_days;
      stems += one.stems;
    }
    EXPECT_EQ(stems, most);
    if (most > 0) {
      const double gain = (before - after) / (most - (most == 2 ? 0 : most / 2));
      EXPECT_GT(gain, 0);
      EXPECT_LE(gain, last_gain + 1e-9);
      last_gain = gain;
    }
    before = after;
  }
}

TEST(WorthMeasuring, a_lot_that_was_measured_already_gets_fewer_than_one_that_was_not) {
  int fresh = 0, known_well = 0;
  MeasuringWorld world(3);
  for (int season = 0; season < 10; ++season) {
    const auto all = worth_measuring(world.draw().request, {12, 0});
    fresh += all[1].stems;
    known_well += all[2].stems;
  }
  EXPECT_GT(fresh, known_well);
}

// tests/bench/measuring_gain.cpp does the same over 300 seasons, with the errors really made.
TEST(WorthMeasuring, the_days_are_surer_than_after_measuring_all_alike) {
  const MeasuringGain gain = gain_of_suggestions(31, 20, 12);
  EXPECT_LT(gain.variance_alike, gain.variance_none);
  EXPECT_GT(gain.gain, 3 * gain.error);
  EXPECT_GT(gain.gain, 0.05 * gain.variance_alike);
}

}  // namespace
}  // namespace takehold::client
