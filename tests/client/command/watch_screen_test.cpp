#include "client/command/watch_screen.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "client/terminal/text_width.hpp"

namespace takehold::client {
namespace {

using namespace std::chrono_literals;
using sensors::Celsius;
using sensors::RelativeHumidity;
using ::testing::HasSubstr;
using ::testing::Not;

const sensors::Instant kNow = sensors::parse_instant("2027-04-12T09:00:00Z").value();

daemon::OccupantMessage batch(const std::string& label) {
  daemon::OccupantMessage batch;
  batch.label = label;
  batch.pairing = "Quarry Pink/Ironfoot";
  batch.count = 12;
  batch.stage = "closed";
  batch.since = kNow - 3h;
  batch.next = kNow + 69h;
  return batch;
}

daemon::WarningMessage dry() {
  daemon::WarningMessage warning;
  warning.id = "W4";
  warning.kind = "drift";
  warning.about = "humidity";
  warning.text = "humidity 96 %, too low in about 14 min";
  warning.raised_at = kNow - 2min;
  warning.breach_at = kNow + 14min;
  return warning;
}

/// Six hours of 97 % and 25 degC with an hour unseen, a batch inside for the last three.
Watched healing() {
  daemon::StatusMessage status;
  status.chamber = "healing chamber";
  status.at = kNow;
  status.air = {kNow - 4s,
                Celsius::degc(25),
                RelativeHumidity::pct(97),
                sensors::Pressure::kpa(3.1),
                sensors::Pressure::kpa(0.1),
                Celsius::degc(24.4)};
  status.asks.temperature = {Celsius::degc(22), Celsius::degc(29)};
  status.asks.humidity = {RelativeHumidity::pct(95), RelativeHumidity::pct(100)};
  status.probes.push_back({"left", "chamber", "serial", std::nullopt});
  status.probes.push_back({"bench", "warm bench", "serial", std::nullopt});
  status.occupants.push_back(batch("G1"));
  daemon::ReadingsMessage past{kNow - 6h, kNow, 6min, {{"left", {}}, {"bench", {}}}};
  for (int i = 0; i < 60; ++i) {
    daemon::ReadingBucket bucket{kNow - 6h + i * 6min, {}, {}};
    if (i < 20 || i >= 30) {
      const auto t = Celsius::degc(25);
      const auto h = RelativeHumidity::pct(i == 50 ? 91 : 97);
      bucket.temperature = {t, t, t};
      bucket.humidity = {h, h, h};
    }
    past.probes[0].buckets.push_back(bucket);
    bucket.humidity = {RelativeHumidity::pct(40), RelativeHumidity::pct(40),
                       RelativeHumidity::pct(40)};
    past.probes[1].buckets.push_back(bucket);  // stands elsewhere: must not be drawn
  }
  return {status, past, "", {}};
}

std::string shown(const Watched& watched, int columns, int rows, bool unicode = true) {
  WatchView view;
  view.columns = columns;
  view.rows = rows;
  view.style.unicode = unicode;
  const auto lines = watch_screen(watched, view, kNow, sensors::TimeZone::utc());
  EXPECT_EQ(int(lines.size()), rows);
  std::string text;
  for (const auto& line : lines) {
    EXPECT_LE(text_width(line.text), columns) << line.text;
    text += line.text + "\n";
  }
  return text;
}

TEST(WatchScreen, fits_an_old_terminal_and_says_first_whether_it_is_right) {
  const auto text = shown(healing(), 80, 24);
  EXPECT_EQ(text.find("healing chamber: 25.0 °C, 97 %; right"), 0U) << text;
  for (const char* part : {"no warning stands", "wanted 95 % to 100 %", "dew point", "24.4 °C",
                           "nothing is on its way out", "G1  Quarry Pink/Ironfoot, 12: closed",
                           "humidity, %", "03:00", "09:00", "q ends", "├"}) {
    EXPECT_THAT(text, HasSubstr(part));
  }
  EXPECT_THAT(text, Not(HasSubstr("temperature, °C")));  // no room for a second chart
}

TEST(WatchScreen, uses_the_room_of_a_large_one) {
  const auto text = shown(healing(), 200, 60);
  EXPECT_THAT(text, HasSubstr("humidity, %"));
  EXPECT_THAT(text, HasSubstr("temperature, °C"));
}

TEST(WatchScreen, draws_the_chambers_probes_alone_and_leaves_gaps_open) {
  const auto text = shown(healing(), 80, 40, false);
  EXPECT_THAT(text, HasSubstr("92 |"));
  EXPECT_THAT(text, Not(HasSubstr("40 |")));
  EXPECT_THAT(text, HasSubstr("********************          **********"));
}

TEST(WatchScreen, shows_what_each_probe_tells_beside_the_air_and_whether_it_is_believed) {
  auto watched = healing();
  watched.status->air.extras = {Celsius::degc(24.4), sensors::CarbonDioxide::ppm(812),
                                sensors::PhotonFlux::umol(40)};
  daemon::ReadingMessage bench{
      "bench", kNow - 7s, Celsius::degc(21), {}, sensors::Quality::suspect, "it has not moved"};
  bench.extras.co2 = sensors::CarbonDioxide::ppm(450);
  watched.status->probes[1].last = bench;
  const auto text = shown(watched, 100, 40);
  EXPECT_THAT(text, HasSubstr("CO2             812 ppm"));
  EXPECT_THAT(text, HasSubstr("light           40 umol"));
  EXPECT_THAT(text, HasSubstr("leaf            24.4 °C"));
  EXPECT_THAT(text, HasSubstr("probe bench (warm bench): read 7 s ago, 21.0 °C, CO2 450 ppm; not "
                              "trusted: it has not moved"));
}

TEST(WatchScreen, says_when_the_air_will_leave_its_band) {
  auto watched = healing();
  watched.status->warnings.push_back(dry());
  const auto text = shown(watched, 80, 24);
  EXPECT_THAT(text, HasSubstr("humidity leaves its band at 09:14"));
  EXPECT_LT(text.find("W4"), text.find("temperature"));  // a warning stands above the values
}

TEST(WatchScreen, makes_old_values_look_old) {
  auto watched = healing();
  watched.trouble = "nobody answers";
  watched.trouble_since = kNow - 5min;
  WatchView view;
  const auto lines = watch_screen(watched, view, kNow, sensors::TimeZone::utc());
  EXPECT_THAT(lines.front().text, HasSubstr("NO ANSWER from the chamber's program since 08:55"));
  EXPECT_EQ(lines.front().ink, Ink::bad);
  for (std::size_t i = 1; i < lines.size(); ++i) {
    EXPECT_TRUE(lines[i].ink != Ink::good && lines[i].ink != Ink::strong) << lines[i].text;
  }
}

TEST(WatchScreen, says_that_the_window_is_too_small_and_keeps_the_first_line) {
  auto watched = healing();
  for (int i = 2; i < 30; ++i) watched.status->occupants.push_back(batch("G" + std::to_string(i)));
  const auto text = shown(watched, 60, 16);
  EXPECT_EQ(text.find("healing chamber"), 0U);
  EXPECT_THAT(text, HasSubstr("too small for the rest"));
}

TEST(WatchScreen, draws_in_ascii_where_the_terminal_knows_no_more) {
  auto text = shown(healing(), 80, 24, false);
  for (std::size_t at; (at = text.find("°")) != std::string::npos;)
    text.erase(at, 2);  // is spelt out
  EXPECT_TRUE(std::all_of(text.begin(), text.end(), [](char c) { return c > 0; })) << text;
}

}  // namespace
}  // namespace takehold::client
