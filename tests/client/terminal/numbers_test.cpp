#include "client/terminal/numbers.hpp"

#include <gtest/gtest.h>

#include "client/terminal/style.hpp"

namespace takehold::client {
namespace {

// Exact by definition: an inch is 25.4 mm, a foot 0.3048 m (international yard and pound, 1959).
TEST(Numbers, a_typed_suffix_wins_over_the_units_that_are_set) {
  EXPECT_NEAR(parse_temperature("75F", Units::metric, "")->degc(), 23.888888888888889, 1e-12);
  EXPECT_DOUBLE_EQ(parse_temperature("24C", Units::us, "")->degc(), 24.0);
  EXPECT_DOUBLE_EQ(parse_temperature("24 °C", Units::us, "")->degc(), 24.0);
  EXPECT_DOUBLE_EQ(parse_temperature("212", Units::us, "")->degc(), 100.0);
  EXPECT_EQ(parse_length("2.0mm", Units::us, "")->um(), 2000);
  EXPECT_EQ(parse_length("0.1in", Units::metric, "")->um(), 2540);
  EXPECT_EQ(parse_length("2,3", Units::metric, "")->um(), 2300);
  EXPECT_DOUBLE_EQ(parse_altitude("1000ft", Units::metric, "")->m(), 304.8);
}

TEST(Numbers, what_is_no_number_is_told_with_its_argument) {
  for (const char* text : {"", "x", "nan", "inf", "1.2.3", "2,3,4", "--5"}) {
    const auto result = parse_temperature(text, Units::metric, "--leaf");
    ASSERT_FALSE(result) << text;
    EXPECT_EQ(result.error().where, "--leaf") << text;
  }
  EXPECT_EQ(parse_temperature("24K", Units::metric, "").error().code, "unknown-unit");
  EXPECT_EQ(parse_temperature("-300", Units::metric, "").error().code, "out-of-range");
  EXPECT_EQ(parse_humidity("101", "").error().code, "out-of-range");
}

TEST(Numbers, zero_has_no_sign) {
  EXPECT_EQ(fixed(-0.04, 1), "0.0");
  EXPECT_EQ(fixed(-0.06, 1), "-0.1");
}

TEST(Numbers, chances_never_promise_certainty) {
  EXPECT_EQ(chance(0.93), "93 in 100");
  EXPECT_EQ(chance(1.0), "over 99 in 100");
  EXPECT_EQ(chance(0.0), "under 1 in 100");
}

// POSIX: LC_ALL overrides LC_CTYPE, which overrides LANG.
TEST(Style, the_first_locale_setting_that_is_there_decides) {
  EXPECT_TRUE(is_utf8_locale("", "", "pt_PT.UTF-8"));
  EXPECT_TRUE(is_utf8_locale("C.utf8", "", ""));
  EXPECT_FALSE(is_utf8_locale("C", "", "pt_PT.UTF-8"));
  EXPECT_FALSE(is_utf8_locale("", "", ""));
}

}  // namespace
}  // namespace takehold::client
