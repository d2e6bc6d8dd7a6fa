// From the match to the take rate, on a real book.
#include <fstream>

#include "tests/client/command/season_book.hpp"

namespace takehold::client {
namespace {

class Grafting : public SeasonBook {
 protected:
  Grafting() {
    done({"sow", "QP-24", "6", "--on", "2027-03-20"});
    done({"sow", "IF-26", "6", "--on", "2027-03-17"});
    done({"emerged", "S1", "4", "--on", "2027-03-30"});
    done({"emerged", "S2", "4", "--on", "2027-03-30"});
  }
  void measure() const {
    done({"measure", "S1", "2.0", "2.1", "1.6", "2.4", "--at", "2027-04-12T08:00:00Z"});
    done({"measure", "S2", "2.1", "2.0", "2.3", "3.0", "--at", "2027-04-12T08:00:00Z"});
  }
};

TEST_F(Grafting, the_match_names_seedlings_and_its_answer_is_grafted_as_it_stands) {
  EXPECT_EQ(refused({"match", "P1"}), "not-measured");
  measure();
  const auto match = told({"match", "P1"});
  ASSERT_EQ(match.document()["count"], 3);
  EXPECT_TRUE(match.document()["warnings"].empty());
  const auto file = folder_ / "pairs.json";
  std::ofstream(file) << match.out;
  const auto batch = done({"graft", "P1", "--pairs", file.string(), "--by", "me"});
  EXPECT_EQ(batch["id"], "G1");
  EXPECT_EQ(batch["count"], 3);
  EXPECT_EQ(batch["stage"], "closed");
  EXPECT_EQ(batch["grafts"][0]["rootstock"].get<std::string>().substr(0, 3), "S2-");
  EXPECT_FALSE(batch["grafts"][0]["rootstock_mm"].is_null());
  const auto rest = done({"match", "P1"});
  EXPECT_EQ(rest["count"], 0);
  EXPECT_EQ(rest["left_over"]["scions"].size(), 1u);
}

TEST_F(Grafting, an_old_measurement_is_used_but_said_to_be_old) {
  measure();
  const auto later = done({"match", "P1", "--now", "2027-04-14T09:00:00Z"});
  EXPECT_EQ(later["count"], 3);
  EXPECT_EQ(later["warnings"][0]["code"], "measured-long-ago");
}

TEST_F(Grafting, several_sowings_that_can_be_meant_are_asked_about) {
  done({"sow", "QP-24", "6", "--on", "2027-03-22"});
  EXPECT_EQ(refused({"graft", "P1", "--count", "2"}), "which-sowing");
  EXPECT_EQ(refused({"graft", "P1", "--count", "2", "--scion-from", "S2"}), "wrong-variety");
  EXPECT_EQ(refused({"graft", "P1", "--count", "5", "--scion-from", "S1"}), "more-than-stand");
  EXPECT_EQ(told({"graft", "P1", "--count", "2", "--scion-from", "S1"}).exit_code, 0);
  EXPECT_EQ(told({"graft", "P1"}).exit_code, 2);
  EXPECT_EQ(refused({"graft", "P9", "--count", "2"}), "not-there");
}

TEST_F(Grafting, stages_pass_by_themselves_and_bend_to_the_grower) {
  done({"graft", "P1", "--count", "4", "--at", "2027-04-12T09:00:00Z"});
  const auto stage_on = [&](const char* now) {
    return done({"stage", "G1", "--now", now})["stage"];
  };
  EXPECT_EQ(stage_on("2027-04-15T08:59:00Z"), "closed");
  EXPECT_EQ(stage_on("2027-04-15T09:00:00Z"), "venting");
  done({"stage", "G1", "--hold", "12", "--now", "2027-04-14T09:00:00Z"});
  EXPECT_EQ(stage_on("2027-04-15T20:59:00Z"), "closed");
  EXPECT_EQ(stage_on("2027-04-15T21:00:00Z"), "venting");
  done({"stage", "G1", "--advance", "--now", "2027-04-15T00:00:00Z"});
  EXPECT_EQ(stage_on("2027-04-15T00:00:00Z"), "venting");
  const auto asks = done({"stage", "G1"})["asks"];
  EXPECT_EQ(asks["humidity_pct"], nlohmann::json::array({95, 100}));
}

TEST_F(Grafting, grafted_is_taken_and_lost_and_pending_at_every_moment) {
  done({"graft", "P1", "--count", "4", "--on", "2027-04-12"});
  done({"lose", "G1", "--plants", "3", "--cause", "wilted", "--now", "2027-04-14T09:00:00Z"});
  const auto before = done({"takes"});
  EXPECT_EQ(before["rows"][0]["grafted"], 0);
  EXPECT_TRUE(before["rows"][0]["rate"].is_null());
  EXPECT_EQ(before["pending"][0]["batch"], "G1");
  EXPECT_EQ(refused({"finish", "G1", "--now", "2027-04-17T20:00:00Z"}), "too-early");
  EXPECT_EQ(refused({"finish", "G1", "--taken", "4", "--now", "2027-04-18T09:00:00Z"}),
            "more-than-live");
  const auto finished = done({"finish", "G1", "--taken", "2", "--now", "2027-04-18T09:00:00Z"});
  EXPECT_EQ(finished["taken"], 2);
  EXPECT_EQ(finished["lost"], 2);
  EXPECT_EQ(finished["pending"], 0);
  const auto rows = done({"takes"})["rows"];
  EXPECT_EQ(rows[0]["pairing"], "Quarry Pink/Ironfoot");
  EXPECT_EQ(rows[0]["grafted"], 4);
  EXPECT_EQ(rows[0]["taken"], 2);
  EXPECT_EQ(refused({"finish", "G1", "--now", "2027-04-19T09:00:00Z"}), "already-finished");
}

TEST_F(Grafting, a_batch_finished_early_stays_out_of_the_rates) {
  done({"graft", "P1", "--count", "4", "--on", "2027-04-12"});
  const auto finished = done({"finish", "G1", "--early", "--now", "2027-04-14T09:00:00Z"});
  EXPECT_EQ(finished["taken"], 4);
  const auto takes = done({"takes"});
  EXPECT_EQ(takes["rows"][0]["grafted"], 0);
  EXPECT_EQ(takes["pending"][0]["grafts"], 4);
}

TEST_F(Grafting, without_a_daemon_the_notice_waits_and_the_newest_replaces_the_older) {
  done({"graft", "P1", "--count", "4", "--on", "2027-04-12"});
  done({"stage", "G1", "--hold", "12"});
  const auto waiting = open().waiting();
  ASSERT_EQ(waiting.size(), 1u);
  EXPECT_EQ(waiting[0].label, "G1");
  EXPECT_EQ(waiting[0].revision, 2);
}

}  // namespace
}  // namespace takehold::client
