// A grafting session in one go: pairs as written on paper, its circumstances, repairs days later.
#include <fstream>

#include "client/season/batch.hpp"

#include "tests/client/command/season_book.hpp"

namespace takehold::client {
namespace {

class GraftSession : public SeasonBook {
 protected:
  GraftSession() {
    done({"sow", "QP-24", "10", "--on", "2027-03-20"});
    done({"sow", "IF-26", "10", "--on", "2027-03-17"});
    done({"emerged", "S1", "9", "--on", "2027-03-30"});
    done({"emerged", "S2", "8", "--on", "2027-03-30"});
  }
  Said asked(const std::vector<std::string>& words, const std::string& typed) const {
    auto all = words;
    all.insert(all.end(), {"--book", (folder_ / "book.db").string()});
    return run(all, typed, true);
  }
};

TEST_F(GraftSession, pairs_as_on_paper_are_typed_piped_or_read_from_a_file) {
  const auto typed = done({"graft", "P1", "R7-S3", "r2-s9"});
  EXPECT_EQ(typed["count"], 2);
  EXPECT_EQ(typed["grafts"][0]["rootstock"], "S2-7");
  EXPECT_EQ(typed["grafts"][0]["scion"], "S1-3");
  EXPECT_EQ(typed["grafts"][1]["rootstock"], "S2-2");
  const auto piped =
      done({"graft", "P1", "--pairs", "-"}, "R1 S1, R3/S2\n# torn\nS2-4 S1-4 2.1 2.0\n");
  EXPECT_EQ(piped["id"], "G2");
  EXPECT_EQ(piped["count"], 3);
  EXPECT_EQ(piped["grafts"][2]["rootstock_mm"], 2.1);
  const auto file = folder_ / "pairs.txt";
  std::ofstream(file) << "R5-S5\n\nR6-S6\n";
  EXPECT_EQ(done({"graft", "P1", "--pairs", file.string()})["grafts"][1]["scion"], "S1-6");
}

TEST_F(GraftSession, slips_are_refused_and_nothing_is_recorded) {
  EXPECT_EQ(refused({"graft", "P1", "R7-X3"}), "bad-pairs");
  EXPECT_EQ(refused({"graft", "P1", "R7"}), "bad-pairs");
  EXPECT_EQ(refused({"graft", "P1", "R11-S3"}), "no-such-seedling");
  EXPECT_EQ(refused({"graft", "P1", "R7-S3", "R7-S4"}), "twice");
  EXPECT_EQ(refused({"graft", "P1", "--count", "1", "--started", "2027-04-12T09:31:00Z", "--at",
                     "09:30"}),
            "ends-before-it-begins");
  EXPECT_TRUE(open().all<Batch>().empty());
  done({"graft", "P1", "R7-S3"});
  EXPECT_EQ(refused({"graft", "P1", "R7-S4"}), "grafted-already");
  done({"sow", "IF-26", "4", "--on", "2027-03-20"});
  EXPECT_EQ(refused({"graft", "P1", "R1-S4"}), "which-sowing");
  EXPECT_EQ(done({"graft", "P1", "R1-S4", "--rootstock-from", "S3"})["grafts"][0]["rootstock"],
            "S3-1");
}

TEST_F(GraftSession, its_circumstances_are_kept) {
  const auto batch =
      done({"graft", "P1", "--count", "4", "--by", "me", "--clip", "2.0", "--angle", "70",
            "--started", "08:30", "--at", "09:15", "--lamp", "40", "--humidity", "65%"});
  EXPECT_EQ(batch["started_at"], "2027-04-12T08:30:00Z");
  EXPECT_EQ(batch["grafted_at"], "2027-04-12T09:15:00Z");
  EXPECT_EQ(batch["clip_mm"], 2.0);
  EXPECT_EQ(batch["cut_angle_deg"], 70.0);
  EXPECT_EQ(batch["lamp_umol"], 40.0);
  EXPECT_EQ(batch["humidity_pct"], 65.0);
  EXPECT_EQ(told({"graft", "P1", "--count", "1", "--angle", "95"}).exit_code, 2);
  EXPECT_EQ(told({"graft", "P1", "--count", "1", "--at", "9.15"}).exit_code, 2);
}

TEST_F(GraftSession, stems_measured_within_a_day_are_noted_with_the_graft) {
  done({"measure", "S1", "2.0", "2.1", "--at", "2027-04-12T08:00:00Z"});
  done({"measure", "S2", "2.2", "--at", "2027-04-10T08:00:00Z"});
  const auto graft = done({"graft", "P1", "R1-S2"})["grafts"][0];
  EXPECT_EQ(graft["scion_mm"], 2.1);
  EXPECT_TRUE(graft["rootstock_mm"].is_null());  // two days old
}

TEST_F(GraftSession, at_a_terminal_it_asks_pair_after_pair_and_takes_back) {
  const Said said = asked({"graft", "P1"}, "R7-S3\nR7-S4\nR2-S9 R1-S1\nu\n\n");
  EXPECT_EQ(said.exit_code, 0) << said.err;
  EXPECT_NE(said.out.find("grafted twice"), std::string::npos) << said.out;
  EXPECT_NE(said.out.find("taken back: R1 under S1"), std::string::npos) << said.out;
  const auto batches = open().all<Batch>();
  ASSERT_EQ(batches.size(), 1u);
  EXPECT_EQ(batches[0].count(), 2);
  EXPECT_NE(asked({"graft", "P1"}, "\n").out.find("Nothing recorded"), std::string::npos);
  asked({"graft", "P1"}, "3\n");
  EXPECT_EQ(open().all<Batch>()[1].count(), 3);
}

TEST_F(GraftSession, the_cautions_are_said_once_a_day_with_what_is_published) {
  const Said first = asked({"graft", "P1", "--count", "2"}, "");
  EXPECT_NE(first.out.find("infect the next"), std::string::npos);
  EXPECT_NE(first.out.find("0.6 % hypochlorite"), std::string::npos);
  EXPECT_NE(first.out.find("takehold labels --batch G1"), std::string::npos);
  const Said second = asked({"graft", "P1", "--count", "2"}, "");
  EXPECT_EQ(second.out.find("hypochlorite"), std::string::npos);
}

TEST_F(GraftSession, failed_grafts_are_made_again_on_their_rootstocks) {
  done({"graft", "P1", "R7-S3", "R2-S9", "R1-S1", "--on", "2027-04-08"});
  EXPECT_EQ(refused({"graft", "P1", "--repairs", "G1", "--count", "1"}), "more-than-failed");
  done({"lose", "G1", "--plants", "2", "--cause", "wilted", "--on", "2027-04-11"});
  EXPECT_EQ(refused({"graft", "P1", "--repairs", "G1", "G1-1", "S4"}), "not-failed");
  EXPECT_EQ(refused({"graft", "P1", "G1-2", "S4"}), "not-failed");
  const auto repair = done({"graft", "P1", "--repairs", "G1", "G1-2", "S4"});
  EXPECT_EQ(repair["repairs"], "G1");
  EXPECT_EQ(repair["grafts"][0]["rootstock"], "S2-2");
  EXPECT_EQ(refused({"graft", "P1", "--repairs", "G1", "--count", "1"}), "more-than-failed");
  // Three rootstocks and four scions were used in all: 8 - 3 and 9 - 4 stand.
  EXPECT_EQ(refused({"graft", "P1", "--count", "6"}), "more-than-stand");
  EXPECT_EQ(told({"graft", "P1", "--count", "5"}).exit_code, 0);
}

}  // namespace
}  // namespace takehold::client
