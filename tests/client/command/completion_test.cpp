// Checked by the shells themselves, with the programs as they are built.
#include <gmock/gmock.h>

#include "client/command/command_pages.hpp"
#include "embedded/places.hpp"
#include "tests/support/running_program.hpp"

namespace takehold::client {
namespace {

using takehold::testing::output_of;
using takehold::testing::ScratchFolder;
using ::testing::HasSubstr;
using ::testing::Not;

const std::string kBin = TAKEHOLD_BIN_DIR;

std::string script(const ScratchFolder& folder, const std::string& shell) {
  const std::string file = folder.path("completion." + shell);
  output_of(kBin + "/takehold completion " + shell + " > " + file);
  return file;
}

// What bash offers for the last of `words`.
std::string offered_by_bash(const std::string& words) {
  const ScratchFolder folder;
  return output_of("bash -c 'source " + script(folder, "bash") + "; COMP_WORDS=(" + words +
                   "); COMP_CWORD=$((${#COMP_WORDS[@]}-1));"
                   "_takehold \"${COMP_WORDS[0]}\" \"${COMP_WORDS[COMP_CWORD]}\";"
                   "echo \"${COMPREPLY[@]}\"'");
}

TEST(Completion, bash_finishes_commands_their_parts_and_options) {
  EXPECT_EQ(offered_by_bash("takehold seas"), "season\n");
  EXPECT_EQ(offered_by_bash("takehold season lo"), "load\n");
  EXPECT_EQ(offered_by_bash("takehold graft --cou"), "--count\n");
  EXPECT_EQ(offered_by_bash("takehold graft P1 --js"), "--json\n");
  EXPECT_EQ(offered_by_bash("/some/where/takehold to"), "today\n");
}

TEST(Completion, bash_finishes_the_other_two_programs_too) {
  EXPECT_EQ(offered_by_bash("chamberd --rep"), "--replay\n");
  EXPECT_EQ(offered_by_bash("probe-sim --fau"), "--fault\n");
}

TEST(Completion, zsh_finishes_the_same_words) {
  const ScratchFolder folder;
  const std::string said =
      output_of("zsh -f -c 'compdef() { : }; compadd() { shift; print -- $@ }; source " +
                script(folder, "zsh") + "; words=(takehold season lo); CURRENT=3; _takehold'");
  EXPECT_THAT(said, HasSubstr("load"));
  EXPECT_THAT(said, Not(HasSubstr("graft")));
}

TEST(Completion, fish_finishes_the_same_words_and_says_what_they_do) {
  const ScratchFolder folder;
  const std::string said =
      output_of("HOME=" + folder.path("") + " fish -N -c 'source " + script(folder, "fish") +
                "; complete -C \"takehold season lo\"'");
  EXPECT_EQ(said.substr(0, said.find('\t')), "load");
}

TEST(Completion, options_and_commands_are_read_out_of_a_help_text) {
  const auto words = words_in(
      "Usage: x [--no]\nOptions:\n  -h,--help                   what it does\n  --once\n"
      "  --every TEXT:{a,b}          how often --or not\n\nSubcommands:\n"
      "  polish                      make it shine\n                              --well\n");
  ASSERT_EQ(words.size(), 4u);
  EXPECT_EQ(words[0].word, "--help");
  EXPECT_EQ(words[0].brief, "what it does");
  EXPECT_EQ(words[1].word, "--once");
  EXPECT_EQ(words[2].word, "--every");
  EXPECT_EQ(words[2].brief, "how often --or not");
  EXPECT_EQ(words[3].word, "polish");
  EXPECT_EQ(words[3].brief, "make it shine");
}

class EveryManual : public ::testing::TestWithParam<const char*> {};

// groff's -ww tells every warning it knows.
TEST_P(EveryManual, is_set_by_groff_without_complaint_and_says_what_help_says) {
  const std::string name = GetParam();
  const std::string page = kBin + "/takehold manual " + name;
  EXPECT_EQ(output_of(page + " | groff -man -ww -Tascii -z 2>&1"), "");
  const std::string set = output_of(page + " | groff -man -Tascii -P-cbou");
  EXPECT_THAT(set, HasSubstr(name + " - "));
  EXPECT_THAT(set, HasSubstr("Usage: " + name));
  EXPECT_THAT(set, HasSubstr("--version"));
}

INSTANTIATE_TEST_SUITE_P(Programs, EveryManual,
                         ::testing::Values("takehold", "chamberd", "probe-sim"));

}  // namespace
}  // namespace takehold::client
