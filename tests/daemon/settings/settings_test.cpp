#include "daemon/settings/settings.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>

#include "tests/support/running_program.hpp"

namespace takehold::daemon {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

struct SettingsFile {
  takehold::testing::ScratchFolder folder;
  Places places{folder.path("state"), folder.path("run")};

  Settings load(const std::string& text) {
    const auto file = folder.path("chamberd.toml");
    std::ofstream(file) << text;
    return load_settings(file, places);
  }
  std::string refusal(const std::string& text) {
    try {
      load(text);
    } catch (const sensors::Refused& refused) {
      return refused.what();
    }
    return "";
  }
};

constexpr const char* kFull = R"(
[chamber]
name = "healing chamber"
altitude_m = 120.5
[log]
file = "chamber.db"
keep_days = 30
[[probe]]
name = "left"
kind = "serial"
device = "/dev/ttyUSB0"
every = "10s"
text = { pattern = 'T=(?<temperature>[-0-9.]+) "H"=(?<humidity>[0-9.]+)' }
calibration = { humidity = { gain = 1.1, offset = -0.7 } }
[[probe]]
name = "sent"
kind = "push"
[warnings]
on_delay = "90s"
deadband = { temperature_degc = 0.3, humidity_pct = 1.0 }
[[notify]]
kind = "command"
command = ["/usr/local/bin/ring", "two words"]
quiet = "22:00-06:00"
)";

TEST(Settings, what_is_printed_reads_back_as_the_same) {
  SettingsFile file;
  const auto once = to_toml(file.load(kFull));
  const auto twice = to_toml(file.load(once));
  EXPECT_EQ(once, twice);
  EXPECT_THAT(once, HasSubstr("keep_days = 30"));
  EXPECT_THAT(once, HasSubstr("two words"));
}

TEST(Settings, numbers_are_printed_as_they_were_written) {
  SettingsFile file;
  const auto text = to_toml(file.load(kFull));
  EXPECT_THAT(text, HasSubstr("temperature_degc = 0.3"));
  EXPECT_THAT(text, HasSubstr("gain = 1.1,"));
  EXPECT_THAT(text, HasSubstr("offset = -0.7"));
  EXPECT_THAT(text, HasSubstr("altitude_m = 120.5"));
  EXPECT_THAT(text, Not(HasSubstr("99999")));
  EXPECT_THAT(text, Not(HasSubstr("00001")));
}

TEST(Settings, defaults_are_written_out_and_lie_in_their_places) {
  SettingsFile file;
  const auto settings = file.load("[[probe]]\nname = \"sent\"\nkind = \"push\"\n");
  EXPECT_EQ(settings.log_file, file.places.state / "chamber.db");
  EXPECT_EQ(settings.socket, file.places.runtime / "chamberd.sock");
  EXPECT_EQ(settings.keep_days, 400);
  EXPECT_THAT(to_toml(settings), HasSubstr("on_delay = '1min'"));
}

TEST(Settings, every_mistake_is_told_at_once_with_its_line) {
  SettingsFile file;
  const auto said = file.refusal("[log]\nkeep_day = 3\n[[probe]]\nname = \"a\"\nkind = \"psh\"\n");
  EXPECT_THAT(said, HasSubstr("chamberd.toml:2"));
  EXPECT_THAT(said, HasSubstr("chamberd.toml:5"));
  EXPECT_THAT(said, HasSubstr("keep_days"));  // the nearest word
}

TEST(Settings, two_probes_of_one_name_are_refused) {
  SettingsFile file;
  EXPECT_NE(file.refusal("[[probe]]\nname = \"a\"\nkind = \"push\"\n"
                         "[[probe]]\nname = \"a\"\nkind = \"push\"\n"),
            "");
}

}  // namespace
}  // namespace takehold::daemon
