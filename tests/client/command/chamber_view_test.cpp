// The chamber as a grower reads it: what it is now, whether that is right, what comes next.
#include "client/command/chamber_view.hpp"

#include <gmock/gmock.h>

#include <algorithm>

namespace takehold::client {
namespace {

using daemon::Band;
using daemon::OccupantMessage;
using daemon::StatusMessage;
using sensors::Celsius;
using sensors::RelativeHumidity;
using testing::HasSubstr;
using namespace std::chrono_literals;

const sensors::Instant kNow = *sensors::parse_instant("2027-04-16T12:00:00Z");

StatusMessage closed_chamber(double humidity_pct) {
  StatusMessage status;
  status.at = kNow;
  status.chamber = "healing chamber";
  status.air.at = kNow;
  status.air.temperature = Celsius::degc(24.0);
  status.air.humidity = RelativeHumidity::pct(humidity_pct);
  status.asks.temperature = Band<Celsius>{Celsius::degc(22), Celsius::degc(29)};
  status.asks.humidity =
      Band<RelativeHumidity>{RelativeHumidity::pct(95), RelativeHumidity::pct(100)};
  OccupantMessage batch;
  batch.label = "G1";
  batch.pairing = "Quarry Pink/Ironfoot";
  batch.count = 6;
  batch.stage = "closed";
  batch.since = kNow - 20h;
  batch.next = kNow + 52h;
  status.occupants.push_back(batch);
  return status;
}

std::string text_of(const StatusMessage& status, Units units = Units::metric) {
  std::string text;
  for (const auto& line : chamber_lines(status, kNow, units)) text += line.text + "\n";
  return text;
}
std::string head_of(const StatusMessage& status) {
  return chamber_lines(status, kNow, Units::metric).front().text;
}

TEST(ChamberView, the_first_line_says_now_right_or_wrong_and_next) {
  EXPECT_EQ(
      head_of(closed_chamber(97)),
      "healing chamber: 24.0 °C, 97 %; right for the batches in it; G1 leaves closed in 2 d 4 h");
  EXPECT_THAT(head_of(closed_chamber(80)), HasSubstr("WRONG"));
  EXPECT_EQ(chamber_lines(closed_chamber(80), kNow, Units::metric).front().ink, Ink::bad);
}

TEST(ChamberView, a_value_stands_beside_its_band_with_a_word_for_it) {
  EXPECT_THAT(text_of(closed_chamber(80)), HasSubstr("80 %   wanted 95 % to 100 %   too low"));
  EXPECT_THAT(text_of(closed_chamber(95)), HasSubstr("95 %   wanted 95 % to 100 %   right"));
  auto hot = closed_chamber(97);
  hot.air.temperature = Celsius::degc(31);
  EXPECT_THAT(text_of(hot), HasSubstr("too high"));
  EXPECT_THAT(text_of(hot, Units::us), HasSubstr("87.8 °F   wanted 71.6 °F to 84.2 °F"));
}

TEST(ChamberView, what_is_not_known_is_never_right) {
  auto silent = closed_chamber(97);
  silent.air = {};
  EXPECT_THAT(head_of(silent), HasSubstr("no trusted reading; not judged"));
  EXPECT_THAT(text_of(silent), HasSubstr("unknown   wanted 95 % to 100 %\n"));
  auto half = closed_chamber(97);
  half.air.humidity.reset();
  EXPECT_THAT(head_of(half), HasSubstr("humidity unknown"));
  auto empty = closed_chamber(97);
  empty.asks = {};
  empty.occupants.clear();
  EXPECT_THAT(head_of(empty), HasSubstr("not judged; no batch waits for a stage"));
}

TEST(ChamberView, a_batch_that_left_is_not_shown_and_one_that_stays_too_long_is_called_out) {
  auto status = closed_chamber(97);
  status.occupants[0].kept = true;
  EXPECT_THAT(text_of(status),
              HasSubstr("G1  Quarry Pink/Ironfoot, 6: closed for 20 h, 2 d 4 h to go; "
                        "move it to the bench"));
  status.occupants[0].left_at = kNow;
  EXPECT_EQ(text_of(status).find("G1"), std::string::npos);
}

TEST(ChamberView, a_warning_says_how_old_it_is_and_whether_it_was_answered) {
  auto status = closed_chamber(80);
  EXPECT_THAT(text_of(status), HasSubstr("no warning stands"));
  daemon::WarningMessage warning;
  warning.id = "W4";
  warning.text = "humidity is below what G1 needs";
  warning.raised_at = kNow - 5min;
  status.warnings.push_back(warning);
  EXPECT_THAT(text_of(status), HasSubstr("W4  humidity is below what G1 needs  (5 min ago)"));
  status.warnings[0].acknowledged_at = kNow;
  status.warnings[0].shelved_until = kNow + 2h;
  EXPECT_THAT(text_of(status), HasSubstr("(5 min ago, seen, quiet)"));
}

TEST(ChamberView, a_probe_says_how_old_its_last_reading_is) {
  auto status = closed_chamber(97);
  status.probes.push_back({"left", "chamber", "serial", std::nullopt});
  EXPECT_THAT(text_of(status), HasSubstr("probe left (chamber): silent so far"));
  daemon::ReadingMessage reading;
  reading.at = kNow - 12s;
  reading.error = "no answer in time";
  status.probes[0].last = reading;
  EXPECT_THAT(text_of(status),
              HasSubstr("probe left (chamber): asked 12 s ago: no answer in time"));
  reading.quality = sensors::Quality::good;
  reading.error.reset();
  status.probes[0].last = reading;
  EXPECT_THAT(text_of(status), HasSubstr("probe left (chamber): read 12 s ago"));
}

}  // namespace
}  // namespace takehold::client
