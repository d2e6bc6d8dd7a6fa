#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>

#include "tests/client/command/run_support.hpp"
#include "tests/daemon/temporary_folder.hpp"

namespace takehold::client {
namespace {

using testing::HasSubstr;

TEST(RegimeCommand, shows_the_band_of_each_day) {
  const Said said = run({"regime", "show", "steady"});
  EXPECT_EQ(said.exit_code, kDone) << said.err;
  EXPECT_THAT(said.out, HasSubstr("closed"));
  EXPECT_THAT(said.out, HasSubstr("95-100"));
  EXPECT_THAT(said.out, HasSubstr("WSU Extension FS051E"));
}

// steady: venting from 90-100 at the end of day 2 to 65-80 at the end of day 6; at noon of day 5
// two and a half of four days are over, so 74.4-87.5.
TEST(RegimeCommand, a_moving_band_has_moved_by_noon) {
  const auto days = run({"regime", "show", "steady", "--json"}).document()["days"];
  EXPECT_NEAR(days[5]["asks"]["humidity_pct"][0].get<double>(), 90 - 25 * 2.5 / 4, 1e-9);
  EXPECT_NEAR(days[5]["asks"]["humidity_pct"][1].get<double>(), 100 - 20 * 2.5 / 4, 1e-9);
  EXPECT_EQ(days[2]["stage"], "closed");
  EXPECT_EQ(days[3]["stage"], "venting");
}

TEST(RegimeCommand, lists_plans_with_and_without_dark_days) {
  const Said said = run({"regime", "list"});
  for (const auto* name : {"steady", "dark-start", "gentle", "side", "deficit"}) {
    EXPECT_THAT(said.out, HasSubstr(name));
  }
}

TEST(RegimeCommand, check_tells_every_mistake_with_its_line) {
  const daemon::TemporaryFolder folder;
  const auto file = (folder / "mine.toml").string();
  std::ofstream(file) << "name = \"mine\"\n[[stage]]\nname = \"closed\"\nhours = 72\n"
                         "humidity_pct = [100, 95]\ntemperature_degc = [22, 290]\n";
  const Said said = run({"regime", "check", file});
  EXPECT_EQ(said.exit_code, kRefused);
  EXPECT_THAT(said.err, HasSubstr("upside down"));
  EXPECT_THAT(said.err, HasSubstr("mine.toml:5"));
  EXPECT_THAT(said.err, HasSubstr("mine.toml:6"));
}

}  // namespace
}  // namespace takehold::client
