// What README and the guide tell a reader to type is there, and every season sheet can be planned.
#include "tests/house/promises.hpp"

#include <gmock/gmock.h>

#include "embedded/places.hpp"
#include "tests/house/program_run.hpp"
#include "tests/house/source_tree.hpp"
#include "tests/house/temporary_tree.hpp"

namespace takehold::house {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

const fs::path kRoot = TAKEHOLD_SOURCE_DIR;

struct Command {
  std::string words = "takehold";  // "takehold season load"
  std::string help;
};

// The longest beginning of the line that has a help page of its own.
Command command_of(const TypedLine& line, const std::string& home) {
  Command command;
  std::vector<std::string> asked = {built("takehold")};
  for (std::size_t i = 1; i < line.words.size() && !line.words[i].starts_with("-"); ++i) {
    asked.push_back(line.words[i]);
    auto with_help = asked;
    with_help.push_back("--help");
    const auto help = run(with_help, home);
    const auto words = command.words + " " + line.words[i];
    if (help.output.find("Usage: " + words) == std::string::npos) break;
    command = {words, help.output};
  }
  return command;
}

class EveryPage : public testing::TestWithParam<const char*> {};

TEST_P(EveryPage, tells_to_type_only_commands_and_options_that_exist) {
  TemporaryTree home;
  const auto lines = typed_lines(kRoot, GetParam(), "takehold");
  ASSERT_THAT(lines, Not(IsEmpty()));
  for (const auto& line : lines) {
    const auto command = command_of(line, home.root());
    EXPECT_THAT(command.help, Not(IsEmpty())) << line.where << ": no such command";
    for (const auto& word : line.words) {
      if (!word.starts_with("--")) continue;
      EXPECT_THAT(command.help, HasSubstr(word)) << line.where;
    }
  }
}

INSTANTIATE_TEST_SUITE_P(Pages, EveryPage, testing::Values("README.md", "docs/guide.md"));

TEST(Pages, every_season_sheet_can_be_planned) {
  const auto files = files_with(kRoot, "config/", "season = ");
  EXPECT_THAT(files, Not(IsEmpty()));
  TemporaryTree home;
  for (const auto& file : files) {
    const auto planned = run({built("takehold"), "plan", (kRoot / file).string(), "--now",
                              "2027-01-15T12:00:00Z", "--json"},
                             home.root());
    EXPECT_EQ(planned.exit_code, 0) << file << "\n" << planned.output;
    EXPECT_THAT(planned.output, HasSubstr("\"sowings\"")) << file;
  }
}

}  // namespace
}  // namespace takehold::house
