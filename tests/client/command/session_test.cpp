// measure and emerged as they ask, with a person before them; and tables of many sowings.
#include <gmock/gmock.h>

#include <fstream>

#include "client/season/batch.hpp"
#include "tests/client/command/season_book.hpp"

namespace takehold::client {
namespace {

using testing::HasSubstr;

class Sessions : public SeasonBook {
 protected:
  Sessions() {
    done({"sow", "QP-24", "6", "--on", "2027-03-25", "--as", "scion"});
    done({"sow", "IF-26", "6", "--on", "2027-03-22", "--as", "rootstock"});
  }
  /// What somebody at a terminal sees who types these lines.
  std::string typed(std::vector<std::string> words, const std::string& lines) const {
    words.insert(words.end(), {"--book", (folder_ / "book.db").string()});
    const Said said = run(words, lines, true);
    EXPECT_EQ(said.exit_code, 0) << said.err;
    return said.out;
  }
  template <class T>
  std::vector<T> all() const {
    return open().all<T>();
  }
  std::string refused_table(const char* command, const std::string& text) const {
    std::ofstream(folder_ / "t.csv") << text;
    const auto before = open().commands().size();
    const Said said = told({command, "--from", (folder_ / "t.csv").string()});
    EXPECT_EQ(said.exit_code, 1) << said.out;
    EXPECT_EQ(open().commands().size(), before);
    const std::string where = said.document()["error"]["where"];
    return said.document()["error"]["code"].get<std::string>() + " " +
           where.substr(where.rfind('/') + 1);
  }
};

TEST_F(Sessions, a_count_offers_one_sowing_after_the_other) {
  const std::string out = typed({"emerged"}, "5\n\n");
  EXPECT_THAT(out, HasSubstr("S2, IF-26 (Ironfoot), 6 sown, not counted yet. Standing now: "));
  ASSERT_EQ(all<Emerged>().size(), 1U);
  EXPECT_EQ(all<Emerged>()[0].sowing, "S2");
  EXPECT_EQ(all<Emerged>()[0].standing, 5);
}

TEST_F(Sessions, u_takes_back_only_what_the_session_recorded) {
  const auto before = open().nouns().size();
  const std::string out = typed({"emerged"}, "u\n5\nu\n4\nu\nu\nq\n");
  EXPECT_THAT(out, HasSubstr("nothing was recorded just now"));
  EXPECT_THAT(out, HasSubstr("taken back: emerged S2 4"));
  EXPECT_TRUE(all<Emerged>().empty());
  EXPECT_EQ(open().nouns().size(), before);
}

TEST_F(Sessions, the_last_count_of_all_can_be_taken_back_too) {
  const std::string out = typed({"emerged"}, "5\n4\nu\n3\n\n");
  EXPECT_THAT(out, HasSubstr("taken back: emerged S1 4"));
  const auto counts = all<Emerged>();
  ASSERT_EQ(counts.size(), 2U);
  EXPECT_EQ(counts[1].standing, 3);
}

TEST_F(Sessions, a_calliper_that_types_a_decimal_comma_and_carriage_returns_is_understood) {
  done({"emerged", "S2", "3"});
  typed({"measure", "S2"}, "2,04\r\n 2.11 \r\n+2.20\r\n\r\n");
  ASSERT_EQ(all<Measurement>().size(), 1U);
  EXPECT_EQ(all<Measurement>()[0].stems.size(), 3U);
}

TEST_F(Sessions, what_is_worth_measuring_is_suggested_and_nothing_is_recorded) {
  done({"emerged", "S1", "4", "--on", "2027-04-08"});
  done({"emerged", "S2", "5", "--on", "2027-04-08"});
  const auto commands = open().commands().size();
  const auto suggested = done({"measure", "--suggest"});
  ASSERT_EQ(suggested["suggested"].size(), 2U);
  int stems = 0;
  for (const auto& one : suggested["suggested"]) {
    EXPECT_LE(one["measure"], one["standing"]);
    EXPECT_LE(one["sd_after_days"], one["sd_before_days"]);
    stems += one["measure"].get<int>();
  }
  EXPECT_EQ(suggested["stems"], stems);
  EXPECT_GT(stems, 0);
  EXPECT_LE(done({"measure", "--suggest", "--most", "2"})["stems"], 2);
  EXPECT_EQ(told({"measure", "S1", "--suggest"}).exit_code, 2);
  EXPECT_EQ(open().commands().size(), commands);
}

TEST_F(Sessions, fewer_than_before_is_a_slip_or_a_loss_with_a_cause) {
  done({"emerged", "S1", "5"});
  done({"emerged", "S2", "6"});
  const std::string out = typed({"emerged"}, "3\n\n5\n");
  EXPECT_THAT(out, HasSubstr("2 fewer than before"));
  EXPECT_THAT(out, HasSubstr("type the count again"));
  EXPECT_TRUE(all<Loss>().empty());
  typed({"emerged"}, "3\nmeteor\n3\npest\n");
  ASSERT_EQ(all<Loss>().size(), 1U);
  EXPECT_EQ(all<Loss>()[0].count, 2);
  EXPECT_EQ(all<Loss>()[0].cause, Cause::pest);
}

TEST_F(Sessions, stems_are_recorded_when_their_sowing_ends_also_at_the_end_of_the_input) {
  for (const char* sowing : {"S1", "S2"}) done({"emerged", sowing, "3"});
  const std::string out = typed({"measure"}, "\n2.0\n23\n\n2.2\n\n\n2.5\n2.6");
  EXPECT_THAT(out, HasSubstr("S2: 3 stems, 2.00 to 2.30 mm"));
  ASSERT_EQ(all<Measurement>().size(), 2U);
  EXPECT_TRUE(all<Measurement>()[0].full);
  EXPECT_EQ(all<Measurement>()[1].stems.size(), 2U);
  EXPECT_FALSE(all<Measurement>()[1].full);
}

TEST_F(Sessions, another_sowing_can_be_named_and_one_alone_is_measured_at_once) {
  for (const char* sowing : {"S1", "S2"}) done({"emerged", sowing, "3"});
  const std::string out = typed({"measure"}, "s9\ns1\n2.0\n\nu\nq\n");
  EXPECT_THAT(out, HasSubstr("there is no sowing s9"));
  EXPECT_THAT(out, HasSubstr("taken back: measure S1"));
  EXPECT_TRUE(all<Measurement>().empty());
  EXPECT_THAT(typed({"measure", "S1"}, "2.0\n2.1\n\n"), HasSubstr("S1: 2 stems"));
  EXPECT_EQ(all<Measurement>().size(), 1U);
}

TEST_F(Sessions, a_pipe_is_no_person_and_is_not_asked) {
  EXPECT_EQ(told({"emerged"}).exit_code, 2);
  EXPECT_EQ(done({"measure", "S1"}, "2.0\n2.1\n")["stems"].size(), 2U);
  const auto piped = done({"measure"}, "sowing,diameter_mm\nS1,2.0\nS2,2.4\nS1,2.2\n");
  EXPECT_EQ(piped["measurements"].size(), 2U);
}

TEST_F(Sessions, a_table_is_one_command_and_one_undo) {
  std::ofstream(folder_ / "t.csv") << "who,standing,sowing\nme,4,S1\nme,5,S2\n";
  EXPECT_EQ(done({"emerged", "--from", (folder_ / "t.csv").string()})["counts"].size(), 2U);
  std::ofstream(folder_ / "m.csv") << "sowing,number,diameter_mm\nS1,2,2.0\nS1,,2.1\nS2,,2.4\n";
  const auto measured = done({"measure", "--from", (folder_ / "m.csv").string()});
  ASSERT_EQ(measured["measurements"].size(), 2U);
  EXPECT_EQ(measured["measurements"][0]["stems"][1]["number"], 3);
  done({"undo"});
  EXPECT_TRUE(all<Measurement>().empty());
  done({"undo", std::to_string(open().commands()[2].id)});
  EXPECT_TRUE(all<Emerged>().empty());
}

TEST_F(Sessions, a_bad_row_refuses_the_whole_table_with_its_line) {
  EXPECT_EQ(refused_table("measure", "sowing,diameter_mm\nS1,2.0\nS1,23\n"),
            "bad-diameter t.csv:3");
  EXPECT_EQ(refused_table("measure", "sowing,diameter_mm\nS1,2.0\nS9,2.0\n"), "not-there t.csv:3");
  EXPECT_EQ(refused_table("measure", "sowing,mm\nS1,2.0\n"), "bad-table t.csv:1");
  EXPECT_EQ(refused_table("emerged", "sowing,standing\nS1,4\nS1,5\n"), "twice t.csv:3");
  EXPECT_EQ(refused_table("emerged", "sowing,standing\nS1,4\nS2,7\n"), "more-than-sown t.csv:3");
  EXPECT_EQ(refused_table("emerged", "sowing,standing\nS1,four\n"), "bad-count t.csv:2");
}

}  // namespace
}  // namespace takehold::client
