#include "client/command/air.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/client/command/run_support.hpp"

namespace takehold::client {
namespace {

// FAO-56 (Allen, Pereira, Raes & Smith 1998), annex 2 table 2.3: es(24 °C) = 2.984 kPa; example 2:
// 81.8 kPa at 1800 m.
TEST(Air, agrees_with_the_printed_tables) {
  const Said dry =
      run({"air", "--temperature", "24C", "--humidity", "50%", "--altitude", "1800m", "--json"});
  ASSERT_EQ(dry.exit_code, kDone) << dry.err;
  const auto document = dry.document();
  EXPECT_NEAR(document["saturation_vapour_pressure_kpa"].get<double>(), 2.984, 0.0015);
  EXPECT_NEAR(document["vapour_pressure_deficit_kpa"].get<double>(), 1.492, 0.0015);
  EXPECT_NEAR(document["pressure_kpa"].get<double>(), 81.8, 0.05);
  EXPECT_TRUE(document["leaf_vapour_pressure_deficit_kpa"].is_null());
}

TEST(Air, a_leaf_below_the_dew_point_gets_wet_and_it_says_so) {
  const Said wet = run({"air", "--temperature", "24", "--humidity", "90", "--leaf", "20"});
  EXPECT_EQ(wet.exit_code, kDone);
  EXPECT_THAT(wet.out, testing::HasSubstr("water condenses on the leaf"));
}

TEST(Air, absolutely_dry_air_has_no_dew_point) {
  const Said dry = run({"air", "--temperature", "24", "--humidity", "0", "--json"});
  EXPECT_TRUE(dry.document()["dew_point_degc"].is_null());
}

TEST(Air, what_cannot_be_is_refused_and_what_is_no_number_is_wrong_usage) {
  EXPECT_EQ(run({"air", "--temperature", "24", "--humidity", "101"}).exit_code, kRefused);
  EXPECT_EQ(run({"air", "--temperature", "400", "--humidity", "50"}).exit_code, kRefused);
  EXPECT_EQ(run({"air", "--temperature", "warm", "--humidity", "50"}).exit_code, kWrongUsage);
  EXPECT_EQ(run({"air", "--temperature", "24"}).exit_code, kWrongUsage);
}

}  // namespace
}  // namespace takehold::client
