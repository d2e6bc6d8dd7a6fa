#include "client/command/demo_story.hpp"

#include <gmock/gmock.h>

#include <sstream>

#include "client/command/moved_dates.hpp"

namespace takehold::client {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;

TEST(MovedDates, only_dates_that_exist_move_and_everything_else_stays) {
  const sensors::Days week{7};
  EXPECT_EQ(with_dates_moved("@ 2027-02-25T09:00:00Z", week), "@ 2027-03-04T09:00:00Z");
  EXPECT_EQ(with_dates_moved("[2027-12-30, 2027-12-31]", week), "[2028-01-06, 2028-01-07]");
  EXPECT_EQ(with_dates_moved("2027-02-30 12027-01-01 2027-01-011 2027", week),
            "2027-02-30 12027-01-01 2027-01-011 2027");
  EXPECT_EQ(with_dates_moved("year = 2026", -week), "year = 2026");
}

TEST(Story, a_folder_with_a_blank_in_its_name_stays_one_word) {
  const auto command = story_command("match P1 --json > {folder}/p.json", "/tmp/a b");
  EXPECT_THAT(command.words, ElementsAre("match", "P1", "--json"));
  EXPECT_EQ(command.output_file, "/tmp/a b/p.json");
  EXPECT_THAT(story_command("sow DP --as \"own root\"", "").words,
              ElementsAre("sow", "DP", "--as", "own root"));
}

struct Told {
  std::string text;
  std::string refusal;
};

Told told(const std::string& story, bool interrupted = false) {
  std::ostringstream out, err;
  Output output(out, err, false, {});
  StoryTeller teller;
  teller.is_interrupted = [=] { return interrupted; };
  teller.pause = [] {};
  try {
    tell_story(story, teller, output);
  } catch (const sensors::Refused& refused) {
    return {out.str(), refused.problem().code};
  }
  return {out.str(), ""};
}

TEST(Story, runs_the_programs_own_commands_and_shows_the_marked_ones) {
  const Told said = told(
      "# Air\n@ 2027-04-12T09:30:00Z\n> air --temperature 24 --humidity 90\n"
      "- air --temperature 31 --humidity 90\n");
  EXPECT_EQ(said.refusal, "");
  EXPECT_THAT(said.text, HasSubstr("$ takehold air --temperature 24 --humidity 90"));
  EXPECT_THAT(said.text, HasSubstr("Air at 24.0 C"));
  EXPECT_THAT(said.text, Not(HasSubstr("31.0")));
}

TEST(Story, a_line_that_is_refused_unasked_or_not_refused_as_told_ends_it) {
  EXPECT_EQ(told("> air --temperature 24 --humidity 190\n").refusal, "demo-stopped");
  EXPECT_EQ(told("! air --temperature 24 --humidity 90\n").refusal, "demo-stopped");
  EXPECT_EQ(told("! air --temperature 24 --humidity 190\n").refusal, "");
}

TEST(Story, an_interrupted_one_goes_no_further) {
  EXPECT_EQ(told("> air --temperature 24 --humidity 90\n", true).refusal, "interrupted");
}

TEST(Story, its_last_moment_is_the_latest_that_is_written) {
  EXPECT_EQ(last_moment("@ 2027-04-12T09:00:00Z\n@ 2027-04-10T09:00:00Z\n@ now\n"),
            *sensors::parse_instant("2027-04-12T09:00:00Z"));
}

}  // namespace
}  // namespace takehold::client
