// The three programs explain themselves, and what lies in config/ is understood.
#include "tests/house/program_run.hpp"

#include <gmock/gmock.h>

#include "embedded/places.hpp"
#include "tests/house/source_tree.hpp"
#include "tests/house/temporary_tree.hpp"

namespace takehold::house {
namespace {

namespace fs = std::filesystem;
using testing::ContainsRegex;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using testing::SizeIs;

const fs::path kRoot = TAKEHOLD_SOURCE_DIR;

class EveryProgram : public testing::TestWithParam<const char*> {};

TEST_P(EveryProgram, explains_itself) {
  TemporaryTree home;
  const auto help = run({built(GetParam()), "--help"}, home.root());
  EXPECT_EQ(help.exit_code, 0) << help.output;
  EXPECT_THAT(help.output, HasSubstr(GetParam()));
  EXPECT_THAT(help.output, HasSubstr("--version"));
}

TEST_P(EveryProgram, names_its_version) {
  TemporaryTree home;
  const auto version = run({built(GetParam()), "--version"}, home.root());
  EXPECT_EQ(version.exit_code, 0) << version.output;
  EXPECT_THAT(version.output, ContainsRegex("[0-9]+\\.[0-9]+\\.[0-9]+"));
}

TEST_P(EveryProgram, refuses_an_unknown_option_as_wrong_usage) {
  TemporaryTree home;
  const auto wrong = run({built(GetParam()), "--no-such-option"}, home.root());
  EXPECT_EQ(wrong.exit_code, 2) << wrong.output;
}

INSTANTIATE_TEST_SUITE_P(Programs, EveryProgram,
                         testing::Values("takehold", "chamberd", "probe-sim"));

TEST(Programs, every_example_of_settings_passes_the_check) {
  const auto files = files_with(kRoot, "config/examples/", "[[probe]]");
  EXPECT_THAT(files, SizeIs(testing::Ge(3u)));  // minimal, typical, full
  TemporaryTree home;
  for (const auto& file : files) {
    const auto checked =
        run({built("chamberd"), "--check", "--settings", (kRoot / file).string()}, home.root());
    EXPECT_EQ(checked.exit_code, 0) << file << "\n" << checked.output;
  }
}

TEST(Programs, a_chamber_that_runs_dry_is_warned_of_without_hardware) {
  TemporaryTree home;
  const auto day = (home.root() / "day.csv").string();
  const auto simulated = run({built("probe-sim"), "--trace", day, "--probes", "1", "--start",
                              "2027-04-12T00:00:00Z", "--hours", "3", "--fault", "dry@3600"},
                             home.root());
  ASSERT_EQ(simulated.exit_code, 0) << simulated.output;
  const auto replayed = run({built("chamberd"), "--replay", day, "--settings",
                             (kRoot / "config/examples/minimal/chamberd.toml").string()},
                            home.root());
  EXPECT_EQ(replayed.exit_code, 0) << replayed.output;
  EXPECT_THAT(replayed.output, HasSubstr("\"event\":\"warning\""));
  EXPECT_THAT(replayed.output, ContainsRegex("2027-04-12T0[1-2]:[^\n]*\"kind\":\"outside\""));
}

TEST(Programs, every_healing_plan_is_understood_by_the_daemon) {
  const auto files = files_with(kRoot, "config/regimes/", "[[stage]]");
  EXPECT_THAT(files, Not(IsEmpty()));
  TemporaryTree home;
  for (const auto& file : files) {
    home.write("chamberd.toml",
               "[[probe]]\nname = \"left\"\nkind = \"push\"\n\n[[occupant]]\nlabel = "
               "\"G1\"\nregime = \"" +
                   (kRoot / file).string() + "\"\nentered_at = 2027-04-12T00:00:00Z\n");
    const auto checked =
        run({built("chamberd"), "--check", "--settings", (home.root() / "chamberd.toml").string()},
            home.root());
    EXPECT_EQ(checked.exit_code, 0) << file << "\n" << checked.output;
  }
}

}  // namespace
}  // namespace takehold::house
