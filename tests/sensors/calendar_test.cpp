#include "sensors/quantity/calendar.hpp"

#include <gtest/gtest.h>

#include "sensors/quantity/length.hpp"
#include "sensors/quantity/temperature.hpp"
#include "sensors/quantity/time_zone.hpp"

namespace takehold::sensors {
namespace {

using namespace std::chrono_literals;

TEST(Calendar, a_day_reads_back_as_written) {
  EXPECT_EQ(to_string(parse_day("2027-04-12").value()), "2027-04-12");
  EXPECT_EQ(weekday_name(parse_day("2027-04-12").value()), "Mon");
}

TEST(Calendar, dates_that_do_not_exist_are_refused) {
  for (const char* text :
       {"2027-02-29", "2027-13-01", "2027-04-31", "2027-4-1", "2027-04-12x", ""}) {
    EXPECT_TRUE(parse_day(text).has_error()) << text;
  }
  EXPECT_TRUE(parse_day("2028-02-29").has_value());
}

TEST(Calendar, instants_keep_milliseconds_and_honour_offsets) {
  EXPECT_EQ(to_string(parse_instant("2027-04-12T09:30:00.25+01:00").value()),
            "2027-04-12T08:30:00.250Z");
  EXPECT_EQ(to_string(parse_instant("2027-04-12T23:59:59Z").value()), "2027-04-12T23:59:59Z");
}

TEST(Calendar, a_time_without_offset_is_refused_and_says_why) {
  const auto result = parse_instant("2027-04-12T09:30:00");
  ASSERT_TRUE(result.has_error());
  EXPECT_NE(result.error().hint.find("no offset"), std::string::npos);
}

TEST(TimeZone, the_spring_gap_means_the_moment_of_the_change) {
  const auto lisbon = TimeZone::named("Europe/Lisbon").value();
  const Day day = parse_day("2027-03-28").value();  // clocks go from 1:00 to 2:00
  EXPECT_EQ(to_string(lisbon.at(day, 90min)), "2027-03-28T01:00:00Z");
  EXPECT_EQ(to_string(lisbon.at(day, 12h)), "2027-03-28T11:00:00Z");
  EXPECT_EQ(lisbon.day_of(parse_instant("2027-04-11T23:30:00Z").value()),
            parse_day("2027-04-12").value());
}

TEST(TimeZone, an_unknown_name_is_refused) {
  EXPECT_TRUE(TimeZone::named("Mars/Olympus").has_error());
}

TEST(Quantity, units_convert_and_subtract) {
  EXPECT_DOUBLE_EQ(Celsius::degf(75.2).degc(), 24.0);
  EXPECT_DOUBLE_EQ((Celsius::degc(24) - Celsius::degc(20)).kelvin(), 4.0);
  EXPECT_LE((Millimetres::mm(2.2) - Millimetres::mm(2.0)).um(), Millimetres::mm(0.2).um());
}

}  // namespace
}  // namespace takehold::sensors
