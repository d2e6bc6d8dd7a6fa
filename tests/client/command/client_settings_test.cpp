#include "client/command/client_settings.hpp"

#include <gmock/gmock.h>

#include <filesystem>
#include <fstream>

#include "embedded/places.hpp"
#include "sensors/quantity/problem.hpp"
#include "tests/client/command/run_support.hpp"
#include "tests/support/running_program.hpp"

namespace takehold::client {
namespace {

using takehold::testing::ScratchFolder;
using ::testing::HasSubstr;
using ::testing::Not;

std::string refusal(const std::string& text) {
  try {
    read_client_settings(text, "takehold.toml");
  } catch (const sensors::Refused& refused) {
    return refused.problem().sentence();
  }
  return "accepted";
}

TEST(ClientSettings, are_all_optional) {
  const auto settings = read_client_settings("", "takehold.toml");
  EXPECT_FALSE(settings.book || settings.daemon || settings.time_zone || settings.units);
  EXPECT_EQ(settings.dates, DateOrder::year_first);
}

TEST(ClientSettings, tell_every_fault_with_its_line) {
  const std::string said = refusal(
      "unit = \"us\"\nunits = \"furlongs\"\ndaemon = \"carrier pigeon\"\n"
      "time_zone = \"Europe/Nowhere\"\ndates = 3\n");
  for (const char* where : {"takehold.toml:1", "takehold.toml:2", "takehold.toml:3",
                            "takehold.toml:4", "takehold.toml:5"}) {
    EXPECT_THAT(said, HasSubstr(where));
  }
  EXPECT_THAT(said, HasSubstr("units"));  // the nearest key to "unit"
}

TEST(ClientSettings, a_book_is_meant_beside_the_file_unless_its_path_is_whole) {
  EXPECT_EQ(read_client_settings("book = \"b.db\"", "/garden/takehold.toml").book, "/garden/b.db");
  EXPECT_EQ(read_client_settings("book = \"/b.db\"", "/garden/takehold.toml").book, "/b.db");
}

class WithSettings : public ::testing::Test {
 protected:
  Said run_with(const std::string& text, std::vector<std::string> words) {
    std::ofstream(folder_.path("takehold.toml")) << text;
    words.insert(words.begin(), {"--settings", folder_.path("takehold.toml")});
    return run(words);
  }
  ScratchFolder folder_;
};

TEST_F(WithSettings, us_units_are_shown_and_meant_by_bare_numbers_and_a_suffix_wins) {
  const std::string us = "units = \"us\"\n";
  const auto bare = run_with(us, {"air", "--temperature", "77", "--humidity", "90"});
  EXPECT_THAT(bare.out, HasSubstr("Air at 77.0 °F"));
  const auto suffix = run_with(us, {"air", "--temperature", "25C", "--humidity", "90", "--json"});
  const auto metric = run({"air", "--temperature", "25", "--humidity", "90", "--json"});
  EXPECT_EQ(suffix.document(), metric.document());  // JSON stays metric
  const auto feet = run_with(
      us, {"air", "--temperature", "77", "--humidity", "90", "--altitude", "1000", "--json"});
  const auto metres =
      run({"air", "--temperature", "25", "--humidity", "90", "--altitude", "304.8", "--json"});
  EXPECT_NEAR(feet.document()["pressure_kpa"].get<double>(),
              metres.document()["pressure_kpa"].get<double>(), 1e-9);
}

TEST_F(WithSettings, stems_are_shown_in_inches) {
  std::ofstream(folder_.path("below")) << "2.54\n";
  std::ofstream(folder_.path("above")) << "2.6\n";
  const auto said =
      run_with("units = \"us\"\n", {"match", "--rootstocks", folder_.path("below"), "--scions",
                                    folder_.path("above"), "--within", "0.01"});
  EXPECT_EQ(said.exit_code, kDone) << said.err;
  EXPECT_THAT(said.out, HasSubstr("apart, in"));
  EXPECT_THAT(said.out, HasSubstr("0.100"));  // 2.54 mm
  EXPECT_THAT(said.out, Not(HasSubstr("mm")));
}

TEST_F(WithSettings, the_book_and_the_order_of_dates_are_taken_from_them) {
  const std::string text =
      "book = \"mine.db\"\ndates = \"day first\"\ntime_zone = \"Asia/Tokyo\"\n";
  const auto sheet = std::string(TAKEHOLD_SOURCE_DIR) + "/config/examples/minimal/season.toml";
  ASSERT_EQ(run_with(text, {"season", "load", sheet}).exit_code, kDone);
  EXPECT_TRUE(std::filesystem::exists(folder_.path("mine.db")));
  EXPECT_THAT(run_with(text, {"today"}).out, HasSubstr("Mon 12.04.2027"));
  const auto shown = run_with(text, {"season", "show", "--json"}).document();
  EXPECT_EQ(shown["time_zone"], "Asia/Tokyo");
}

TEST_F(WithSettings, a_faulty_file_refuses_every_command_and_a_missing_one_is_told) {
  EXPECT_EQ(run_with("units = 3\n", {"air", "--temperature", "1", "--humidity", "9"}).exit_code,
            kRefused);
  EXPECT_EQ(
      run({"--settings", folder_.path("none"), "air", "--temperature", "1", "--humidity", "9"})
          .exit_code,
      kRefused);
}

}  // namespace
}  // namespace takehold::client
