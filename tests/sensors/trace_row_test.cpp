#include "sensors/codec/trace_row.hpp"

#include <gtest/gtest.h>

namespace takehold::sensors {
namespace {

std::string code_of(std::string_view line) {
  const auto row = parse_trace_row(line);
  return row ? "good" : row.error().code;
}

TEST(TraceRow, a_row_is_a_reading_and_back) {
  const std::string line = "2027-04-12T00:00:10Z,left,24.31,96.20";
  const auto reading = parse_trace_row(line).value();
  EXPECT_EQ(reading.probe, "left");
  EXPECT_EQ(to_string(reading.at), "2027-04-12T00:00:10Z");
  EXPECT_NEAR(reading.temperature->degc(), 24.31, 1e-9);
  EXPECT_NEAR(reading.humidity->pct(), 96.2, 1e-9);
  EXPECT_EQ(format_trace_row(reading), line);
}

TEST(TraceRow, an_empty_field_is_missing_and_zero_is_not) {
  const auto half = parse_trace_row("2027-04-12T00:00:00Z,left,0,").value();
  EXPECT_EQ(half.temperature->degc(), 0.0);
  EXPECT_FALSE(half.humidity.has_value());
  EXPECT_EQ(half.quality, Quality::good);
  const auto none = parse_trace_row("2027-04-12T00:00:00Z,left,,\r").value();
  EXPECT_EQ(none.quality, Quality::none);
  EXPECT_EQ(format_trace_row(none), "2027-04-12T00:00:00Z,left,,");
}

TEST(TraceRow, wrong_rows_say_what_is_wrong) {
  EXPECT_EQ(code_of(""), "bad-row");
  EXPECT_EQ(code_of("2027-04-12T00:00:00Z,left,24.3"), "bad-row");
  EXPECT_EQ(code_of("2027-04-12T00:00:00Z,left,24.3,96,1"), "bad-row");
  EXPECT_EQ(code_of("2027-02-30T00:00:00Z,left,24.3,96"), "bad-instant");
  EXPECT_EQ(code_of("2027-04-12T00:00:00Z,,24.3,96"), "no-probe");
  EXPECT_EQ(code_of("2027-04-12T00:00:00Z,left,warm,96"), "bad-number");
}

}  // namespace
}  // namespace takehold::sensors
