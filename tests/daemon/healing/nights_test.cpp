// Another band by night: read, written, and asked for by the grower's clock.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "daemon/healing/asks.hpp"
#include "daemon/healing/exposure.hpp"
#include "daemon/healing/regime_json.hpp"
#include "daemon/healing/regime_toml.hpp"

namespace takehold::daemon {
namespace {

using namespace std::chrono_literals;
using sensors::Instant;

const std::string kPlan = R"(name = "nights"
day = ["06:00", "22:00"]
time_zone = "Europe/Lisbon"
[[stage]]
name = "closed"
hours = 72
temperature_degc = { day = [24, 28], night = [19, 23] }
humidity_pct = { day = { from = [95, 100], to = [80, 90] }, night = [95, 100] }
)";

Asks asks_at(const Regime& regime, const char* at) {
  const Instant entered = sensors::parse_instant("2027-04-12T00:00:00Z").value();
  return asks_of(regime, stage_at(regime, entered, {}, sensors::parse_instant(at).value()));
}

// Lisbon's clock is an hour ahead of UTC in April: 06:00 there is 05:00Z.
TEST(Nights, bands_follow_the_growers_clock) {
  const Regime regime = read_regime(kPlan, "x.toml").value();
  EXPECT_EQ(asks_at(regime, "2027-04-13T11:00:00Z").temperature->low.degc(), 24.0);
  EXPECT_EQ(asks_at(regime, "2027-04-13T04:59:00Z").temperature->high.degc(), 23.0);
  EXPECT_EQ(asks_at(regime, "2027-04-13T22:30:00Z").temperature->low.degc(), 19.0);
  EXPECT_EQ(asks_at(regime, "2027-04-13T20:59:00Z").temperature->low.degc(), 24.0);
}

TEST(Nights, for_an_hour_after_a_change_both_bands_are_right) {
  const Regime regime = read_regime(kPlan, "x.toml").value();
  for (const char* at : {"2027-04-13T05:00:00Z", "2027-04-13T05:59:00Z", "2027-04-13T21:30:00Z"}) {
    const auto asks = asks_at(regime, at);
    EXPECT_EQ(asks.temperature->low.degc(), 19.0) << at;
    EXPECT_EQ(asks.temperature->high.degc(), 28.0) << at;
  }
  EXPECT_EQ(asks_at(regime, "2027-04-13T06:00:00Z").temperature->low.degc(), 24.0);
}

TEST(Nights, a_band_that_moves_by_day_may_stand_by_night) {
  const Regime regime = read_regime(kPlan, "x.toml").value();
  // Half of the stage is over at noon of the second day: 95 -> 80 is then 87.5.
  EXPECT_DOUBLE_EQ(asks_at(regime, "2027-04-13T12:00:00Z").humidity->low.pct(), 87.5);
  EXPECT_DOUBLE_EQ(asks_at(regime, "2027-04-14T02:00:00Z").humidity->low.pct(), 95.0);
}

TEST(Nights, a_night_may_go_over_midnight_the_other_way) {
  const auto lamps_by_night = R"(name = "n"
day = ["20:00", "08:00"]
[[stage]]
name = "closed"
hours = 72
temperature_degc = { day = [24, 28], night = [19, 23] }
)";
  const Regime regime = read_regime(lamps_by_night, "x.toml").value();
  EXPECT_EQ(asks_at(regime, "2027-04-13T02:00:00Z").temperature->low.degc(), 24.0);
  EXPECT_EQ(asks_at(regime, "2027-04-13T12:00:00Z").temperature->low.degc(), 19.0);
}

TEST(Nights, they_pass_through_files_and_json_unchanged) {
  Regime regime = read_regime(kPlan, "x.toml").value();
  regime.stages[0].advance_when = "no wilting at two looks in a row";
  EXPECT_EQ(read_regime(regime_toml(regime), "again").value(), regime);
  const auto text = nlohmann::json(regime).dump();
  EXPECT_EQ(parse_regime_json(nlohmann::json::parse(text)).value(), regime);
}

TEST(Nights, mistakes_are_told) {
  const auto code_with = [](std::string what, const std::string& by) {
    std::string text = kPlan;
    const auto result = read_regime(text.replace(text.find(what), what.size(), by), "x.toml");
    return result ? std::string() : result.error().code + " " + result.error().where;
  };
  EXPECT_EQ(code_with("day = [\"06:00\", \"22:00\"]\n", ""), "no-day-hours x.toml:6");
  EXPECT_EQ(code_with("\"22:00\"", "\"24:00\""), "bad-hours x.toml:2");
  EXPECT_EQ(code_with("\"22:00\"", "\"06:00\""), "bad-hours x.toml:2");
  EXPECT_EQ(code_with("Europe/Lisbon", "Europe/Nowhere"), "unknown-time-zone x.toml:3");
  EXPECT_EQ(code_with(", night = [19, 23]", ""), "bad-band x.toml:7");
  EXPECT_EQ(code_with("night = [19, 23]", "night = [23, 19]"), "bad-band x.toml:7");
}

// 21 °C for a whole day: too cold by day (between the hours of change), right by night.
TEST(Nights, a_batch_is_judged_by_the_band_of_the_hour) {
  const Regime regime = read_regime(kPlan, "x.toml").value();
  const Instant entered = sensors::parse_instant("2027-04-12T00:00:00Z").value();
  ExposureCounter counter(regime, entered, {}, entered + 24h);
  for (auto at = entered; at <= entered + 24h; at += 1min) {
    counter.see(at, sensors::Celsius::degc(21), sensors::RelativeHumidity::pct(97));
  }
  // Day in Lisbon is 05:00Z to 21:00Z, its first hour lets the night's band hold on: 15 hours.
  const auto exposure = counter.result();
  EXPECT_NEAR(exposure.stages[0].temperature->below.time.count(), 15.0, 2.0 / 60);
}

}  // namespace
}  // namespace takehold::daemon
