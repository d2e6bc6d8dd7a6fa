// The front door: what is due, late, otherwise than yesterday, and why.
#include <gmock/gmock.h>

#include "tests/client/command/season_book.hpp"

namespace takehold::client {
namespace {

using testing::HasSubstr;
using testing::Not;

class Today : public SeasonBook {
 protected:
  void graft() const {
    done({"sow", "QP-24", "9", "--on", "2027-03-20"});
    done({"sow", "IF-26", "9", "--on", "2027-03-17"});
    done({"graft", "P1", "--count", "4", "--now", "2027-04-01T09:00:00Z"});
  }
  nlohmann::json task(const std::string& what, const std::string& now) const {
    const auto today = done({"today", "--now", now});
    for (const auto& one : today["tasks"])
      if (one["what"] == what) return one;
    return nullptr;
  }
  std::string screen(const std::string& now) const {
    return run({"--book", (folder_ / "book.db").string(), "--daemon",
                "unix:" + (folder_ / "nobody.sock").string(), "today", "--now", now})
        .out;
  }
};

TEST_F(Today, a_batch_asks_for_its_score_from_day_6_to_day_14_and_is_late_after_that) {
  graft();
  EXPECT_TRUE(task("finish", "2027-04-06T20:00:00Z").is_null());
  const auto first = task("finish", "2027-04-07T06:00:00Z");
  EXPECT_EQ(first["on"], "2027-04-07");
  EXPECT_EQ(first["command"], "takehold finish G1 --taken 4");
  EXPECT_THAT(first["text"].get<std::string>(), HasSubstr("it is day 6"));
  EXPECT_EQ(task("finish", "2027-04-12T06:00:00Z")["on"], "2027-04-12");
  EXPECT_EQ(task("finish", "2027-04-18T06:00:00Z")["on"], "2027-04-15");
  EXPECT_THAT(screen("2027-04-18T06:00:00Z"), HasSubstr("Late\n"));
}

TEST_F(Today, a_finished_batch_is_still_led_through_its_stages) {
  graft();
  done({"finish", "G1", "--taken", "3", "--now", "2027-04-09T09:00:00Z"});
  EXPECT_TRUE(task("finish", "2027-04-10T09:00:00Z").is_null());
  EXPECT_TRUE(task("move", "2027-04-10T09:00:00Z").is_null());
  EXPECT_THAT(task("stage", "2027-04-10T09:00:00Z")["text"].get<std::string>(),
              HasSubstr("is shaded"));
  EXPECT_TRUE(task("stage", "2027-04-20T09:00:00Z").is_null());
}

TEST_F(Today, a_batch_whose_stage_stands_on_the_bench_asks_to_be_moved) {
  graft();
  EXPECT_TRUE(task("move", "2027-04-08T08:59:00Z").is_null());
  EXPECT_EQ(task("move", "2027-04-08T09:00:00Z")["command"],
            "takehold move G1 --to \"warm bench\"");
}

TEST_F(Today, says_what_is_otherwise_than_yesterday_and_why) {
  graft();
  done({"emerged", "S1", "5", "--now", "2027-04-02T09:00:00Z"});
  done({"emerged", "S1", "7", "--now", "2027-04-04T08:00:00Z"});
  done({"lose", "G1", "--plants", "2", "--cause", "wilted", "--now", "2027-04-04T08:30:00Z"});
  const auto changed = done({"today", "--now", "2027-04-04T10:00:00Z"})["changed"];
  const auto has = [&](const char* about, const char* text, const char* why) {
    return std::any_of(changed.begin(), changed.end(), [&](const auto& c) {
      return c["about"] == about && c["text"].template get<std::string>().find(text) == 0 &&
             c["why"].template get<std::string>().find(why) == 0;
    });
  };
  EXPECT_TRUE(has("G1", "venting since 2027-04-04", "by its healing plan")) << changed;
  EXPECT_TRUE(has("S1", "7 standing, 5 before", "told on 2027-04-04")) << changed;
  EXPECT_TRUE(has("G1", "1 lost, wilted", "told on 2027-04-04")) << changed;
  EXPECT_EQ(changed.size(), 3U) << changed;
  EXPECT_TRUE(done({"today", "--now", "2027-04-05T11:00:00Z"})["changed"].empty());
}

TEST_F(Today, names_the_hand_that_changed_a_stage) {
  graft();
  done({"stage", "G1", "--advance", "--now", "2027-04-02T09:00:00Z"});
  const auto changed = done({"today", "--now", "2027-04-02T12:00:00Z"})["changed"];
  ASSERT_FALSE(changed.empty());
  EXPECT_EQ(changed[0]["why"], "stage G1 --advance");
}

TEST_F(Today, a_plan_accepted_again_says_which_day_moved) {
  done({"plan", "--accept", "--now", "2027-02-01T09:00:00Z"});
  EXPECT_FALSE(done({"today", "--now", "2027-02-01T10:00:00Z"})["changed"].empty());
  done({"pairing", "edit", "P1", "--ready-on", "2027-05-20", "--now", "2027-02-05T09:00:00Z"});
  done({"plan", "--accept", "--now", "2027-02-05T09:00:00Z"});
  const auto changed = done({"today", "--now", "2027-02-05T10:00:00Z"})["changed"];
  EXPECT_THAT(changed.dump(), HasSubstr(" instead of "));
  EXPECT_THAT(changed.dump(), HasSubstr("plan --accept"));
}

TEST_F(Today, a_lot_sown_near_its_planned_day_is_the_planned_one) {
  done({"plan", "--accept", "--now", "2027-02-01T09:00:00Z"});
  const nlohmann::json planned =
      done({"plan", "--now", "2027-02-01T09:00:00Z"})["plan"]["sowings"][0];
  const std::string lot = planned["lot"], day = planned["sow_on"];
  const auto asked = [&] {
    int lines = 0;
    const nlohmann::json today = done({"today", "--now", day + "T10:00:00Z"});
    for (const auto& task : today["tasks"]) lines += task["what"] == "sow" && task["about"] == lot;
    return lines;
  };
  const int before = asked();
  done({"sow", lot, "2", "--on", "2027-02-02", "--now", day + "T09:00:00Z"});  // months too early
  EXPECT_EQ(asked(), before);
  const nlohmann::json sown = done({"sow", lot, "5", "--now", day + "T09:30:00Z"});
  EXPECT_FALSE(sown["planned"].is_null());
  EXPECT_EQ(asked(), before - 1);
}

TEST_F(Today, a_chamber_that_nobody_watches_is_called_out) {
  EXPECT_THAT(screen("2027-04-02T09:00:00Z"), Not(HasSubstr("does not answer")));
  graft();
  EXPECT_THAT(screen("2027-04-02T09:00:00Z"), HasSubstr("does not answer"));
  EXPECT_TRUE(done({"today", "--now", "2027-04-02T09:00:00Z"})["chamber"].is_null());
}

}  // namespace
}  // namespace takehold::client
