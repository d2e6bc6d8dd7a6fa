#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/client/command/run_support.hpp"

namespace takehold::client {
namespace {

using testing::HasSubstr;

TEST(Program, options_of_all_commands_stand_before_or_behind_the_command) {
  const Said before = run({"--json", "air", "--temperature", "24", "--humidity", "90"});
  const Said behind = run({"air", "--temperature", "24", "--humidity", "90", "--json"});
  EXPECT_EQ(before.exit_code, kDone);
  EXPECT_EQ(before.out, behind.out);
  EXPECT_EQ(before.document(), behind.document());
}

TEST(Program, a_mistyped_command_is_wrong_usage_and_names_the_nearest) {
  const Said said = run({"ari", "--temperature", "24"});
  EXPECT_EQ(said.exit_code, kWrongUsage);
  EXPECT_EQ(said.out, "");
  EXPECT_THAT(said.err, HasSubstr("did you mean air?"));
}

TEST(Program, a_mistyped_option_is_wrong_usage_and_json_says_it_too) {
  const Said said = run({"air", "--temprature", "24", "--json"});
  EXPECT_EQ(said.exit_code, kWrongUsage);
  EXPECT_EQ(said.document()["error"]["code"], "unknown-option");
  for (const char* key : {"code", "title", "detail", "where", "hint"}) {
    EXPECT_TRUE(said.document()["error"].contains(key)) << key;
  }
  EXPECT_THAT(said.err, HasSubstr("--temperature"));
}

TEST(Program, help_and_version_are_done_and_teach) {
  EXPECT_EQ(run({"--version"}).exit_code, kDone);
  EXPECT_THAT(run({"--version"}).out, HasSubstr("takehold"));
  const Said help = run({"air", "--help"});
  EXPECT_EQ(help.exit_code, kDone);
  EXPECT_THAT(help.out, HasSubstr("For example:"));
}

TEST(Program, without_a_command_and_without_a_book_it_greets_and_says_how_to_begin) {
  const Said said = run({"--book", "/nowhere/book.db"});
  EXPECT_EQ(said.exit_code, kDone);
  EXPECT_THAT(said.out, HasSubstr("takehold demo"));
  EXPECT_THAT(said.out, HasSubstr("takehold season new"));
  EXPECT_THAT(said.out, HasSubstr("/nowhere/book.db"));
}

TEST(Program, a_command_with_parts_wants_one_of_them) {
  EXPECT_EQ(run({"season"}).exit_code, kWrongUsage);
}

TEST(Program, an_instant_without_offset_is_no_now) {
  const Said said =
      run({"--now", "2027-04-12T09:30:00", "air", "--temperature", "1", "--humidity", "50"});
  EXPECT_EQ(said.exit_code, kWrongUsage);
  EXPECT_THAT(said.err, HasSubstr("--now"));
}

}  // namespace
}  // namespace takehold::client
