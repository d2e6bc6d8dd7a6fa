#include "daemon/healing/exposure.hpp"

#include <gtest/gtest.h>

namespace takehold::daemon {
namespace {

using namespace std::chrono_literals;
using sensors::Celsius;
using sensors::Instant;
using sensors::RelativeHumidity;

const Instant kEntered = sensors::parse_instant("2027-04-12T09:00:00Z").value();

Band<Celsius> degc(double low, double high) {
  return {Celsius::degc(low), Celsius::degc(high)};
}
Band<RelativeHumidity> pct(double low, double high) {
  return {RelativeHumidity::pct(low), RelativeHumidity::pct(high)};
}

/// Ten hours at 20-30 degC and 90-100 %, then two at 25 degC sinking to 15.
Regime plan() {
  Stage closed;
  closed.name = "closed";
  closed.length = 10h;
  closed.temperature = Ramp<Celsius>{degc(20, 30), degc(20, 30)};
  closed.humidity = Ramp<RelativeHumidity>{pct(90, 100), pct(90, 100)};
  Stage cooling;
  cooling.name = "cooling";
  cooling.length = 2h;
  cooling.temperature = Ramp<Celsius>{degc(25, 35), degc(15, 25)};
  return {"by hand", "ours", {}, {closed, cooling}};
}

struct Look {
  std::chrono::milliseconds later;
  std::optional<double> temperature, humidity;
};

Exposure exposure(const std::vector<Look>& looks, std::chrono::milliseconds until,
                  const std::vector<ManualEvent>& events = {}) {
  const Regime regime = plan();
  ExposureCounter counter(regime, kEntered, events, kEntered + until);
  for (const auto& [later, temperature, humidity] : looks) {
    std::optional<Celsius> warm;
    std::optional<RelativeHumidity> moist;
    if (temperature) warm = Celsius::degc(*temperature);
    if (humidity) moist = RelativeHumidity::pct(*humidity);
    counter.see(kEntered + later, warm, moist);
  }
  return counter.result();
}

/// The same air from one time to another, a look every four minutes.
void hold(std::vector<Look>& looks, std::chrono::minutes from, std::chrono::minutes to, double warm,
          std::optional<double> moist = std::nullopt) {
  for (auto at = from; at <= to; at += 4min) looks.push_back({at, warm, moist});
}

TEST(Exposure, a_line_that_crosses_a_limit_counts_from_where_it_crosses) {
  // From 30 to 34 in four minutes, limit 30: all outside; back to 26: outside for half of it.
  const auto found = exposure({{0min, 30., {}}, {4min, 34., {}}, {8min, 26., {}}}, 8min);
  ASSERT_EQ(found.stages.size(), 1u);
  const auto& warm = *found.stages[0].temperature;
  EXPECT_NEAR(warm.above.time.count(), 6.0 / 60, 1e-12);
  EXPECT_NEAR(warm.above.longest.count(), 6.0 / 60, 1e-12);
  EXPECT_NEAR(warm.above.amount_hours, 0.5 * 4 * 6.0 / 60,
              1e-12);  // a triangle of 6 min and 4 degC
  EXPECT_EQ(warm.below.time.count(), 0);
  EXPECT_NEAR(warm.observed.count(), 8.0 / 60, 1e-12);
}

TEST(Exposure, many_readings_weigh_no_more_than_few) {
  // An hour at 35 (5 above) with a look every four minutes, an hour at 25 with one a second.
  std::vector<Look> looks;
  hold(looks, 0min, 60min, 35);
  for (auto at = 3600s + 1s; at <= 7200s; at += 1s) looks.push_back({at, 25., {}});
  const auto warm = *exposure(looks, 120min).stages[0].temperature;
  EXPECT_NEAR(warm.above.amount_hours, 5.0, 0.001);  // and half of one second's fall
  EXPECT_NEAR(warm.above.time.count(), 1.0, 0.001);
  EXPECT_NEAR(warm.observed.count(), 2.0, 1e-9);
}

TEST(Exposure, five_minutes_are_bridged_and_a_moment_more_is_not_observed) {
  EXPECT_EQ(exposure({{0min, 25., 95.}, {5min, 25., 95.}}, 5min).observed, 1.0);
  const auto found = exposure({{0min, 35., 95.}, {5min + 1ms, 35., 95.}}, 5min);
  EXPECT_EQ(found.observed, 0.0);
  EXPECT_EQ(found.stages[0].temperature->above.time.count(), 0);
}

TEST(Exposure, a_gap_cuts_a_spell_and_is_in_the_share_that_was_not_seen) {
  std::vector<Look> looks;
  hold(looks, 0min, 60min, 32, 95);
  hold(looks, 80min, 120min, 32, 95);
  const auto found = exposure(looks, 120min);
  const auto& warm = *found.stages[0].temperature;
  EXPECT_NEAR(warm.above.time.count(), 100.0 / 60, 1e-9);
  EXPECT_NEAR(warm.above.longest.count(), 1.0, 1e-9);
  EXPECT_NEAR(warm.above.amount_hours, 2 * 100.0 / 60, 1e-9);
  EXPECT_NEAR(*found.observed, 100.0 / 120, 1e-9);
}

TEST(Exposure, dry_air_counts_in_the_water_it_lacks) {
  // Two hours at 80 %, 10 points under 90 %, at 25 degC, where saturation is 3169.7 Pa (ASHRAE
  // 2017, Handbook of Fundamentals, given to 0.03 %).
  std::vector<Look> looks;
  hold(looks, 0min, 120min, 25, 80);
  const auto moist = *exposure(looks, 120min).stages[0].humidity;
  EXPECT_NEAR(moist.below.time.count(), 2.0, 1e-9);
  EXPECT_NEAR(moist.below.amount_hours, 2 * 0.10 * 3.1697, 2 * 0.10 * 3.1697 * 0.0003);
  EXPECT_EQ(moist.above.time.count(), 0);
}

TEST(Exposure, a_limit_itself_is_inside) {
  std::vector<Look> looks;
  hold(looks, 0min, 60min, 30, 90);
  const auto found = exposure(looks, 60min);
  EXPECT_EQ(found.stages[0].temperature->above.time.count(), 0);
  EXPECT_EQ(found.stages[0].humidity->below.time.count(), 0);
}

TEST(Exposure, each_stage_is_judged_by_its_own_band_and_a_moving_one_moves) {
  // 24 degC all the time: inside 20-30; then the low limit sinks from 25 to 15 in two hours and
  // passes 24 after a tenth of it, 0.2 h, with 1 degree at the begin: a triangle of 0.1 degC h.
  std::vector<Look> looks;
  hold(looks, 0min, 12 * 60min, 24, 95);
  const auto found = exposure(looks, 12h);
  ASSERT_EQ(found.stages.size(), 2u);
  EXPECT_EQ(found.stages[0].stage, "closed");
  EXPECT_EQ(found.stages[0].temperature->below.time.count(), 0);
  EXPECT_EQ(found.stages[1].since, kEntered + 10h);
  EXPECT_NEAR(found.stages[1].temperature->below.time.count(), 0.2, 1e-9);
  EXPECT_NEAR(found.stages[1].temperature->below.amount_hours, 0.1, 1e-9);
  EXPECT_FALSE(found.stages[1].humidity);
}

TEST(Exposure, a_stage_begun_again_is_told_again_and_a_hold_is_not) {
  const std::vector<ManualEvent> events{{EventKind::hold, kEntered + 1h, 60min},
                                        {EventKind::back, kEntered + 12h, 0min}};
  const auto found = exposure({}, 13h, events);
  ASSERT_EQ(found.stages.size(), 3u);
  EXPECT_NEAR(found.stages[0].length().count(), 11, 1e-9);
  EXPECT_EQ(found.stages[1].stage, "cooling");
  EXPECT_EQ(found.stages[2].stage, "closed");
  EXPECT_EQ(found.observed, 0.0);
}

TEST(Exposure, nothing_is_known_before_any_time_has_passed) {
  EXPECT_FALSE(exposure({}, 0h).observed);
  EXPECT_TRUE(exposure({}, 0h).stages.empty());
}

}  // namespace
}  // namespace takehold::daemon
