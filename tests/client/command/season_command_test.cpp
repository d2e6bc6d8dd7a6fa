#include <gmock/gmock.h>

#include "tests/client/command/book_support.hpp"

namespace takehold::client {
namespace {

using testing::HasSubstr;

class SeasonCommand : public BookTest {};

TEST_F(SeasonCommand, a_load_says_what_is_new_and_a_second_finds_nothing) {
  const Said first = say_json({"season", "load", file("2027.toml")});
  ASSERT_EQ(first.exit_code, kDone) << first.err;
  EXPECT_TRUE(first.document()["changed"].empty());
  EXPECT_THAT(first.document()["added"].dump(), HasSubstr("QP-24"));
  const Said again = say_json({"season", "load", file("2027.toml")});
  EXPECT_TRUE(again.document()["added"].empty());
  EXPECT_FALSE(again.document()["unchanged"].empty());
  EXPECT_EQ(say_json({"undo", "--list"}).document()["commands"].size(), 1U);
}

TEST_F(SeasonCommand, an_unknown_key_names_file_and_line_and_changes_nothing) {
  write("wrong.toml", "season = \"2027\"\nready_on = 2027-05-29\nreddy = 3\n");
  const Said said = say_json({"season", "load", file("wrong.toml")});
  EXPECT_EQ(said.exit_code, kRefused);
  EXPECT_EQ(said.document()["error"]["code"], "unknown-key");
  EXPECT_THAT(said.err, HasSubstr("wrong.toml:3"));
  EXPECT_FALSE(std::filesystem::exists(file("book.db")));
}

TEST_F(SeasonCommand, a_date_that_does_not_exist_is_refused_with_its_line) {
  write("wrong.toml", "season = \"2027\"\nready_on = 2027-02-30\n");
  const Said said = say({"season", "load", file("wrong.toml")});
  EXPECT_EQ(said.exit_code, kRefused);
  EXPECT_THAT(said.err, HasSubstr("wrong.toml:2"));
}

TEST_F(SeasonCommand, a_new_sheet_can_be_loaded_as_it_is_and_is_never_written_over) {
  ASSERT_EQ(say({"season", "new", file("new.toml")}).exit_code, kDone);
  EXPECT_EQ(say({"season", "load", file("new.toml")}).exit_code, kDone);
  EXPECT_EQ(say({"season", "new", file("new.toml")}).exit_code, kRefused);
}

TEST_F(SeasonCommand, what_is_written_out_reads_back_to_the_same_book) {
  load();
  ASSERT_EQ(say({"season", "write", file("out.toml")}).exit_code, kDone);
  const Said said = say_json({"season", "load", file("out.toml")});
  ASSERT_EQ(said.exit_code, kDone) << said.err;
  EXPECT_TRUE(said.document()["added"].empty());
  EXPECT_TRUE(said.document()["changed"].empty());
  EXPECT_TRUE(said.document()["missing"].empty());
}

TEST_F(SeasonCommand, without_a_book_reading_is_refused_and_makes_none) {
  const Said said = say_json({"season", "show"});
  EXPECT_EQ(said.exit_code, kRefused);
  EXPECT_EQ(said.document()["error"]["code"], "no-book");
  EXPECT_FALSE(std::filesystem::exists(file("book.db")));
}

class NounCommand : public BookTest {};

TEST_F(NounCommand, an_edit_keeps_the_version_before_it) {
  load();
  ASSERT_EQ(say({"lot", "edit", "qp", "--seeds", "50"}).exit_code, kDone);
  const auto records = say_json({"lot", "show", "QP-24", "--history"}).document()["records"];
  ASSERT_EQ(records.size(), 2U);
  EXPECT_EQ(records[0]["seeds"], 80);
  EXPECT_EQ(records[1]["seeds"], 50);
  EXPECT_EQ(records[1]["on_hand"], 50);
}

TEST_F(NounCommand, a_duplicate_label_is_refused_and_nothing_changes) {
  load();
  const auto before = say_json({"lot", "list"}).out;
  const Said said = say_json({"lot", "add", "QP-24", "--variety", "Quarry Pink", "--seeds", "9"});
  EXPECT_EQ(said.exit_code, kRefused);
  EXPECT_EQ(said.document()["error"]["code"], "exists");
  EXPECT_EQ(say_json({"lot", "list"}).out, before);
}

TEST_F(NounCommand, names_may_be_cut_but_must_stay_single) {
  load();
  ASSERT_EQ(say({"variety", "add", "Quarry Red"}).exit_code, kDone);
  EXPECT_EQ(say({"variety", "show", "iron"}).exit_code, kDone);
  const Said said = say({"variety", "show", "quarry"});
  EXPECT_EQ(said.exit_code, kRefused);
  EXPECT_THAT(said.err, HasSubstr("Quarry Red"));
  EXPECT_EQ(say({"lot", "show", "ZZ"}).exit_code, kRefused);
}

TEST_F(NounCommand, a_pairing_gets_a_number_that_is_never_used_again) {
  load();
  ASSERT_EQ(say({"variety", "add", "Quarry Red"}).exit_code, kDone);
  const auto second = say_json({"pairing", "add", "Quarry Red/Iron", "--want", "3"}).document();
  EXPECT_EQ(second["records"][0]["id"], "P2");
  ASSERT_EQ(say({"pairing", "drop", "P2"}).exit_code, kDone);
  const auto third = say_json({"pairing", "add", "Quarry Red/Iron", "--want", "3"}).document();
  EXPECT_EQ(third["records"][0]["id"], "P3");
}

TEST_F(NounCommand, bad_values_are_told_with_their_option) {
  load();
  EXPECT_EQ(say({"lot", "edit", "QP-24", "--seeds", "many"}).exit_code, kWrongUsage);
  EXPECT_EQ(say({"lot", "edit", "QP-24", "--origin", "found"}).exit_code, kWrongUsage);
  EXPECT_EQ(say({"lot", "edit", "QP-24"}).exit_code, kWrongUsage);
  EXPECT_EQ(say({"pairing", "edit", "P1", "--want", "0"}).exit_code, kRefused);
  EXPECT_EQ(say({"lot", "add", "bad label", "--variety", "Iron"}).exit_code, kWrongUsage);
}

// Beta(17, 3) worth 20 seeds, bought this year, with 18 of 20 more: Beta(35, 5), mean 35/40. The
// quantiles are R 4.2's qbeta(c(.05, .95), 35, 5).
TEST_F(NounCommand, a_germination_test_is_added_to_what_was_assumed) {
  load();
  ASSERT_EQ(say({"lot", "edit", "IF-26", "--year", "2027"}).exit_code, kDone);
  const Said said = say_json({"lot", "test", "IF-26", "18/20", "--on", "2027-03-20"});
  ASSERT_EQ(said.exit_code, kDone) << said.err;
  EXPECT_NEAR(said.document()["mean"].get<double>(), 0.875, 1e-12);
  EXPECT_NEAR(said.document()["p05"].get<double>(), 0.7804769317, 1e-6);
  EXPECT_NEAR(said.document()["p95"].get<double>(), 0.9480964425, 1e-6);
  EXPECT_EQ(say({"lot", "test", "IF-26", "21/20"}).exit_code, kRefused);
  EXPECT_EQ(say({"lot", "test", "IF-26", "1/2", "--on", "2027-04-02"}).exit_code, kRefused);
}

TEST_F(NounCommand, undo_takes_back_whole_and_undoing_that_restores) {
  load();
  ASSERT_EQ(say({"lot", "edit", "QP-24", "--seeds", "50"}).exit_code, kDone);
  const auto seeds = [&] {
    return say_json({"lot", "show", "QP-24"}).document()["records"][0]["seeds"].get<int>();
  };
  ASSERT_EQ(say({"undo"}).exit_code, kDone);
  EXPECT_EQ(seeds(), 80);
  ASSERT_EQ(say({"undo"}).exit_code, kDone);
  EXPECT_EQ(seeds(), 50);
}

}  // namespace
}  // namespace takehold::client
