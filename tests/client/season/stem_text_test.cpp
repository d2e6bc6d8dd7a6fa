#include "client/season/stem_text.hpp"

#include <gtest/gtest.h>

namespace takehold::client {
namespace {

TEST(StemText, reads_millimetres_with_point_or_comma_and_inches) {
  EXPECT_EQ(parse_stem("2.05").value().um(), 2050);
  EXPECT_EQ(parse_stem("2,05").value().um(), 2050);
  EXPECT_EQ(parse_stem("2.0mm").value().um(), 2000);
  EXPECT_EQ(parse_stem("0.08in").value().um(), 2032);  // an inch is 25.4 mm by definition
  EXPECT_EQ(parse_stem("0.08", Units::us).value().um(), 2032);
}

TEST(StemText, asks_for_a_lost_decimal_point) {
  const auto thick = parse_stem("23");
  ASSERT_FALSE(thick.has_value());
  EXPECT_EQ(thick.error().code, "bad-diameter");
  EXPECT_EQ(thick.error().hint, "2.3?");
  EXPECT_EQ(parse_stem("215").error().hint, "2.15?");
}

TEST(StemText, allows_the_limits_and_nothing_beyond) {
  EXPECT_TRUE(parse_stem("0.3").has_value());
  EXPECT_TRUE(parse_stem("15").has_value());
  for (const char* bad : {"0.29", "15.01", "0", "-2", "nan", "inf", "1e0", "2.0 ", "2.0cm", ""})
    EXPECT_FALSE(parse_stem(bad).has_value()) << bad;
}

TEST(StemText, readings_go_in_tray_order_or_to_the_plant_named) {
  const auto stems = parse_stems("2.0 2.1 5=2.3 2,4\n").value();
  ASSERT_EQ(stems.size(), 4u);
  EXPECT_EQ(stems[1].number, 2);
  EXPECT_EQ(stems[2].number, 5);
  EXPECT_EQ(stems[2].diameter.um(), 2300);
  EXPECT_EQ(stems[3].number, 6);
}

TEST(StemText, one_plant_measured_twice_is_refused) {
  EXPECT_EQ(parse_stems("2.0 1=2.1").error().code, "twice");
  EXPECT_EQ(parse_stems("0=2.1").error().code, "bad-diameter");
  EXPECT_EQ(parse_stems("2.0 23").error().where, "plant 2");
}

}  // namespace
}  // namespace takehold::client
