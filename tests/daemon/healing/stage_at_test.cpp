#include "daemon/healing/stage_at.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>

#include "daemon/healing/asks.hpp"

namespace takehold::daemon {
namespace {

using namespace std::chrono_literals;
using sensors::Celsius;
using sensors::Instant;
using sensors::RelativeHumidity;

const Instant kEntered = sensors::parse_instant("2027-04-12T09:00:00Z").value();

Stage stage(const char* name, std::chrono::hours length, double from, double to,
            StagePlace where = StagePlace::chamber) {
  Stage made;
  made.name = name;
  made.where = where;
  made.length = length;
  const auto band = [](double low) {
    return Band<RelativeHumidity>{RelativeHumidity::pct(low), RelativeHumidity::pct(low + 10)};
  };
  made.humidity = Ramp<RelativeHumidity>{band(from), band(to)};
  return made;
}

/// Three days closed, four venting from 90 down to 70 %, three on the bench.
const Regime kRegime{"steps",
                     "ours",
                     {},
                     {stage("closed", 72h, 90, 90), stage("venting", 96h, 90, 70),
                      stage("shaded", 72h, 55, 55, StagePlace::bench)}};

StageNow at(std::chrono::minutes later, std::vector<ManualEvent> events = {}) {
  return stage_at(kRegime, kEntered, events, kEntered + later);
}
ManualEvent advance(std::chrono::minutes later) {
  return {EventKind::advance, kEntered + later, 0min};
}
ManualEvent back(std::chrono::minutes later) {
  return {EventKind::back, kEntered + later, 0min};
}
ManualEvent hold(std::chrono::minutes later, std::chrono::hours longer) {
  return {EventKind::hold, kEntered + later, longer};
}
std::string name(const StageNow& now) {
  return std::string(stage_name(kRegime, now));
}

// By hand, from the rule that stage lengths are elapsed hours and an end is the next one's begin.
TEST(StageAt, stages_pass_by_themselves_and_end_when_the_next_begins) {
  EXPECT_EQ(name(at(0h)), "closed");
  EXPECT_EQ(at(0h).next, kEntered + 72h);
  EXPECT_EQ(name(at(72h - 1min)), "closed");
  EXPECT_EQ(name(at(72h)), "venting");
  EXPECT_EQ(at(72h).since, kEntered + 72h);
  EXPECT_EQ(name(at(168h)), "shaded");
  EXPECT_EQ(name(at(240h - 1min)), "shaded");
  EXPECT_EQ(name(at(240h)), "done");
  EXPECT_TRUE(at(240h).over);
  EXPECT_EQ(at(240h).since, kEntered + 240h);
  EXPECT_EQ(at(240h).next, std::nullopt);
}

TEST(StageAt, before_it_entered_it_is_the_first_stage) {
  EXPECT_EQ(name(at(-5h)), "closed");
  EXPECT_EQ(at(-5h).progress, 0.0);
}

// On 2027-03-28 at 01:00 UTC clocks in Europe go forward.
TEST(StageAt, a_stage_lasts_elapsed_hours_over_a_change_of_clocks) {
  const auto entered = sensors::parse_instant("2027-03-26T12:00:00+00:00").value();
  const auto now = stage_at(kRegime, entered, {}, entered);
  EXPECT_EQ(sensors::to_string(*now.next), "2027-03-29T12:00:00Z");  // 13:00 on the wall there
}

TEST(StageAt, advance_begins_the_next_stage_at_that_moment) {
  const auto now = at(60h, {advance(50h)});
  EXPECT_EQ(name(now), "venting");
  EXPECT_EQ(now.since, kEntered + 50h);
  EXPECT_EQ(now.next, kEntered + 146h);
  EXPECT_EQ(name(at(49h, {advance(50h)})), "closed");  // not yet decided then
  EXPECT_EQ(name(at(40h, {advance(10h), advance(20h), advance(30h)})), "done");
}

TEST(StageAt, hold_makes_the_present_stage_longer_and_no_other) {
  const auto now = at(75h, {hold(70h, 12h)});
  EXPECT_EQ(name(now), "closed");
  EXPECT_EQ(now.next, kEntered + 84h);
  EXPECT_EQ(at(90h, {hold(70h, 12h)}).next, kEntered + 84h + 96h);
  EXPECT_EQ(at(71h, {hold(10h, 12h), hold(20h, 24h)}).next, kEntered + 108h);
}

TEST(StageAt, back_begins_the_previous_stage_again_in_full) {
  const auto now = at(81h, {hold(10h, 6h), back(80h)});
  EXPECT_EQ(name(now), "closed");
  EXPECT_EQ(now.since, kEntered + 80h);
  EXPECT_EQ(now.next, kEntered + 152h);  // 72 h again, without the hold
  EXPECT_EQ(name(at(21h, {back(20h)})), "closed");
  EXPECT_EQ(at(21h, {back(20h)}).next, kEntered + 92h);
  EXPECT_EQ(name(at(301h, {back(300h)})), "shaded");
}

TEST(StageAt, nothing_is_advanced_or_held_once_all_is_over) {
  const auto now = at(300h, {advance(250h), hold(260h, 100h)});
  EXPECT_TRUE(now.over);
  EXPECT_EQ(now.since, kEntered + 240h);
}

TEST(StageAt, a_hold_also_stops_the_moving_band) {
  EXPECT_DOUBLE_EQ(at(72h + 48h).progress, 0.5);
  EXPECT_DOUBLE_EQ(at(72h + 60h, {hold(72h + 48h, 24h)}).progress, 0.5);
  EXPECT_DOUBLE_EQ(at(72h + 72h, {hold(72h + 48h, 24h)}).progress, 0.5);
  EXPECT_DOUBLE_EQ(at(72h + 96h, {hold(72h + 48h, 24h)}).progress, 0.75);
  // A second hold while the first lasts goes on after it.
  EXPECT_DOUBLE_EQ(at(72h + 90h, {hold(72h + 48h, 24h), hold(72h + 50h, 24h)}).progress, 0.5);
}

/// Any order of events, any moments: what the header promises holds.
TEST(StageAt, promises_hold_for_random_events) {
  std::mt19937 random(20270412);
  const auto draw = [&](int most) {
    return static_cast<int>(random() % static_cast<unsigned>(most));
  };
  for (int round = 0; round < 2000; ++round) {
    std::vector<ManualEvent> events;
    for (int i = draw(6); i > 0; --i) {
      events.push_back({static_cast<EventKind>(draw(3)),
                        kEntered + std::chrono::hours(draw(300) - 20),
                        std::chrono::hours(draw(40))});
    }
    const Instant now = kEntered + std::chrono::hours(draw(400));
    const StageNow first = stage_at(kRegime, kEntered, events, now);
    std::shuffle(events.begin(), events.end(), random);
    ASSERT_EQ(first.since <= now, true) << "round " << round;
    ASSERT_EQ(first.over, !first.next.has_value());
    ASSERT_GE(first.progress, 0.0);
    ASSERT_LE(first.progress, 1.0);
    if (!first.next) continue;
    ASSERT_LT(now, *first.next);
    // Asked a moment before its end, and with no further word, it is the same stage.
    std::vector<ManualEvent> until_now;
    for (const auto& event : events) {
      if (event.at <= now) until_now.push_back(event);
    }
    const StageNow later = stage_at(kRegime, kEntered, until_now, *first.next - 1ms);
    bool same_moment_twice = false;
    for (const auto& a : events) {
      for (const auto& b : events) same_moment_twice |= &a != &b && a.at == b.at;
    }
    if (!same_moment_twice) {
      ASSERT_EQ(later.index, first.index);
      ASSERT_EQ(later.since, first.since);
      const StageNow next = stage_at(kRegime, kEntered, until_now, *first.next);
      ASSERT_EQ(next.index, first.index + 1);
    }
  }
}

TEST(Asks, a_moving_band_is_between_its_ends) {
  const auto asks = [](std::chrono::minutes later) { return asks_of(kRegime, at(later)); };
  EXPECT_EQ(asks(10h).humidity->low.pct(), 90.0);
  EXPECT_EQ(asks(72h).humidity->low.pct(), 90.0);
  EXPECT_DOUBLE_EQ(asks(72h + 24h).humidity->low.pct(), 85.0);
  EXPECT_DOUBLE_EQ(asks(72h + 48h).humidity->high.pct(), 90.0);
  EXPECT_FALSE(asks(240h).humidity);
}

TEST(Asks, on_a_bench_stage_the_chamber_keeps_its_last_band_and_says_so) {
  const auto now = chamber_asks(kRegime, at(170h));
  EXPECT_TRUE(now.kept);
  EXPECT_EQ(now.asks.humidity->low.pct(), 70.0);
  EXPECT_EQ(asks_of(kRegime, at(170h)).humidity->low.pct(), 55.0);  // the stage's own
  EXPECT_TRUE(chamber_asks(kRegime, at(500h)).kept);
  EXPECT_EQ(chamber_asks(kRegime, at(500h)).asks.humidity->low.pct(), 70.0);
  EXPECT_FALSE(chamber_asks(kRegime, at(100h)).kept);
}

}  // namespace
}  // namespace takehold::daemon
