#include "daemon/watch/watch.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "watched_chamber.hpp"

namespace takehold::daemon {
namespace {

using namespace std::chrono_literals;
using testing::IsEmpty;
using testing::SizeIs;

std::string summary(const std::vector<Warning>& warnings) {
  std::string all;
  for (const auto& w : warnings) {
    all += w.id() + " " + to_string(w.kind) + "/" + to_string(w.cause) + " " + w.about + " at " +
           sensors::to_string(w.raised_at) + ": " + w.text + "\n";
  }
  return all;
}

TEST(Watch, a_chamber_that_cycles_is_left_alone) {
  WatchedChamber chamber;
  const auto warnings = chamber.warnings(12h);
  EXPECT_THAT(warnings, IsEmpty()) << summary(warnings);
}

TEST(Watch, water_out_is_foretold_as_drying_and_comes_true) {
  WatchedChamber chamber;
  chamber.befalls("dry@14400");
  const auto warnings = chamber.warnings(6h);
  ASSERT_THAT(warnings, SizeIs(2)) << summary(warnings);
  EXPECT_EQ(warnings[0].kind, WarningKind::drift);
  EXPECT_EQ(warnings[0].cause, Cause::drying);
  EXPECT_EQ(warnings[0].about, "humidity");
  ASSERT_TRUE(warnings[0].breach_at);
  EXPECT_EQ(warnings[1].kind, WarningKind::outside);
  EXPECT_EQ(warnings[1].follows, warnings[0].number);
  // Foretold time against when it was out: the on-delay is not part of it.
  const auto breach = warnings[1].raised_at - 60s;
  EXPECT_LT(std::chrono::abs(*warnings[0].breach_at - breach),
            (breach - warnings[0].raised_at) / 2 + 60s);
}

TEST(Watch, a_drift_that_comes_true_is_cleared_by_it) {
  WatchedChamber chamber;
  chamber.befalls("dry@14400");
  std::vector<EventType> of_first;
  for (const auto& event : chamber.watch(6h)) {
    if (event.warning && event.warning->number == 1) of_first.push_back(event.type);
  }
  EXPECT_EQ(of_first, (std::vector<EventType>{EventType::warning, EventType::cleared}));
}

TEST(Watch, a_dead_heater_is_cooling) {
  WatchedChamber chamber;
  chamber.befalls("cold@14400");
  const auto warnings = chamber.warnings(8h);
  ASSERT_FALSE(warnings.empty());
  EXPECT_EQ(warnings[0].cause, Cause::cooling) << summary(warnings);
  EXPECT_LE(warnings.size(), 3u) << summary(warnings);
}

TEST(Watch, a_heater_that_does_not_stop_is_warming) {
  WatchedChamber chamber;
  chamber.befalls("hot@14400");
  const auto warnings = chamber.warnings(8h);
  ASSERT_FALSE(warnings.empty());
  EXPECT_EQ(warnings[0].cause, Cause::warming) << summary(warnings);
}

TEST(Watch, a_door_left_ajar_is_opened) {
  WatchedChamber chamber;
  chamber.befalls("ajar@14400");
  const auto warnings = chamber.warnings(6h);
  ASSERT_FALSE(warnings.empty());
  EXPECT_EQ(warnings[0].cause, Cause::opened) << summary(warnings);
}

TEST(Watch, a_humidifier_that_does_not_stop_is_saturated_where_it_is_too_much) {
  WatchedChamber chamber;
  chamber.low_pct = 70;
  chamber.high_pct = 85;
  chamber.scene.chamber.set_humidity = sensors::RelativeHumidity::pct(77);
  chamber.befalls("soak@14400");
  const auto warnings = chamber.warnings(6h);
  ASSERT_FALSE(warnings.empty());
  EXPECT_EQ(warnings[0].cause, Cause::saturated) << summary(warnings);
}

TEST(Watch, a_look_inside_is_no_drift) {
  WatchedChamber chamber;
  for (const auto* fault : {"door@14400+60", "door@18000+120", "mist@20000", "door@25000+180"}) {
    chamber.befalls(fault);
  }
  for (const auto& warning : chamber.warnings(9h)) {
    EXPECT_EQ(warning.kind, WarningKind::outside) << warning.text;
  }
}

TEST(Watch, a_probe_that_fails_is_named_and_warns_of_nothing_else) {
  for (const auto* fault : {"stuck@14400:2", "wet@14400:2", "jump@14400:2"}) {
    WatchedChamber chamber;
    chamber.befalls(fault);
    const auto warnings = chamber.warnings(7h);
    ASSERT_THAT(warnings, SizeIs(1)) << fault << "\n" << summary(warnings);
    EXPECT_EQ(warnings[0].kind, WarningKind::probe);
    EXPECT_EQ(warnings[0].probe, "right");
  }
}

// The cycle of 95 +- 1 is under a limit at 95 every few minutes.
TEST(Watch, a_cycle_that_crosses_the_limit_is_said_once) {
  WatchedChamber chamber;
  chamber.low_pct = 95;
  int cycling = 0, others = 0;
  const auto warnings = chamber.warnings(12h);
  for (const auto& warning : warnings) {
    (warning.cause == Cause::cycling ? cycling : others) += 1;
  }
  EXPECT_EQ(cycling, 1) << summary(warnings);
  EXPECT_LE(others, 1) << summary(warnings);
}

}  // namespace
}  // namespace takehold::daemon
