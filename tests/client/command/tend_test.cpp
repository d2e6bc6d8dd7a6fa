// The tasks of the healing stages: they come up at their hours, are ticked off, and what a stage
// waits for is asked about.
#include <gmock/gmock.h>

#include "tests/client/command/season_book.hpp"

namespace takehold::client {
namespace {

using nlohmann::json;
using testing::HasSubstr;

class Tend : public SeasonBook {
 protected:
  Tend() {
    done({"sow", "QP-24", "12", "--on", "2027-03-20"});
    done({"sow", "IF-26", "12", "--on", "2027-03-17"});
    done({"graft", "P1", "--count", "4", "--now", "2027-04-01T09:00:00Z"});
  }
  json lines(const std::string& now, const std::string& what = "tend") const {
    auto found = json::array();
    const json said = done({"today", "--now", now});
    for (const auto& one : said["tasks"]) {
      if (one["what"] == what) found.push_back(one);
    }
    return found;
  }
  std::vector<std::string> texts(const std::string& now, const std::string& what = "tend") const {
    std::vector<std::string> all;
    for (const auto& one : lines(now, what)) all.push_back(one["text"]);
    return all;
  }
  json tick(int line, const std::string& now) const {
    return done({"done", std::to_string(line), "--now", now});
  }
  int line_of(const std::string& begins, const std::string& now) const {
    for (const auto& one : lines(now)) {
      if (one["text"].get<std::string>().starts_with(begins)) return one["line"];
    }
    return -1;
  }
};

TEST_F(Tend, tasks_come_up_at_their_hours_and_not_before_the_graft) {
  // Grafted at nine: the look at eight of that day is not asked for.
  EXPECT_THAT(texts("2027-04-01T10:00:00Z"),
              testing::ElementsAre(HasSubstr("13:00 G1: mist"), HasSubstr("18:00 G1: look"),
                                   HasSubstr("18:00 G1: mist")));
  EXPECT_THAT(texts("2027-04-02T05:00:00Z"), testing::SizeIs(6));
}

TEST_F(Tend, a_line_ticked_with_done_is_gone_and_comes_again_the_next_day) {
  const char* now = "2027-04-02T07:50:00Z";
  const auto ticked = tick(line_of("8:00 G1: look", now), now);
  EXPECT_EQ(ticked["tended"][0]["due_at"], "2027-04-02T08:00:00Z");
  EXPECT_EQ(ticked["tended"][0]["wilted"], 0);
  EXPECT_EQ(line_of("8:00 G1: look", now), -1);
  EXPECT_GT(line_of("18:00 G1: look", now), 0);
  EXPECT_GT(line_of("8:00 G1: look", "2027-04-03T07:50:00Z"), 0);
}

TEST_F(Tend, batches_in_one_stage_share_a_line) {
  done({"graft", "P1", "--count", "3", "--now", "2027-04-01T11:00:00Z"});
  const char* now = "2027-04-02T07:50:00Z";
  EXPECT_THAT(texts(now), testing::Contains(HasSubstr("8:00 G1, G2: refill the water")));
  const auto ticked = tick(line_of("8:00 G1, G2: refill", now), now);
  EXPECT_EQ(ticked["tended"].size(), 2u);
  done({"undo", "--now", now});
  EXPECT_GT(line_of("8:00 G1, G2: refill", now), 0);
}

TEST_F(Tend, the_mains_are_said_once_in_the_stage_line) {
  const auto stage = texts("2027-04-02T05:00:00Z", "stage");
  ASSERT_EQ(stage.size(), 1u);
  EXPECT_THAT(stage[0], HasSubstr("residual-current device"));
  for (const auto& text : texts("2027-04-02T05:00:00Z")) {
    EXPECT_THAT(text, testing::Not(HasSubstr("mains")));
  }
  EXPECT_THAT(texts("2027-04-06T05:00:00Z", "stage")[0], testing::Not(HasSubstr("mains")));
}

TEST_F(Tend, what_has_a_day_stays_until_it_is_done) {
  EXPECT_EQ(line_of("G1: remove the clips", "2027-04-12T08:00:00Z"), -1);
  EXPECT_GT(line_of("G1: remove the clips", "2027-04-13T08:00:00Z"), 0);
  const char* late = "2027-04-14T08:00:00Z";
  EXPECT_EQ(lines(late)[0]["on"], "2027-04-13");
  tick(line_of("G1: remove the clips", late), late);
  EXPECT_EQ(line_of("G1: remove the clips", late), -1);
}

TEST_F(Tend, a_stage_is_held_when_what_it_waits_for_was_not_seen) {
  EXPECT_THAT(texts("2027-04-03T10:00:00Z", "hold"), testing::IsEmpty());
  const char* last_day = "2027-04-04T07:00:00Z";
  ASSERT_THAT(texts(last_day, "hold"), testing::SizeIs(1));
  EXPECT_THAT(texts(last_day, "hold")[0], HasSubstr("no wilting at two looks in a row"));
  done({"done", std::to_string(lines(last_day, "hold")[0]["line"].get<int>()), "6", "--now",
        last_day});
  EXPECT_EQ(done({"stage", "G1", "--now", last_day})["next_at"], "2027-04-04T15:00:00Z");
}

TEST_F(Tend, two_looks_in_a_row_without_wilting_let_it_pass) {
  done({"tend", "look", "G1", "--wilted", "0", "--now", "2027-04-02T18:00:00Z"});
  done({"tend", "look", "G1", "--wilted", "1", "--now", "2027-04-03T08:00:00Z"});
  EXPECT_THAT(texts("2027-04-03T09:00:00Z", "hold"),
              testing::ElementsAre(HasSubstr("leaves hung at the last look")));
  done({"tend", "look", "G1", "--wilted", "0", "--now", "2027-04-03T18:00:00Z"});
  EXPECT_THAT(texts("2027-04-04T07:00:00Z", "hold"), testing::SizeIs(1));
  done({"tend", "look", "G1", "--wilted", "0", "--now", "2027-04-04T08:00:00Z"});
  EXPECT_THAT(texts("2027-04-04T08:10:00Z", "hold"), testing::IsEmpty());
}

TEST_F(Tend, what_cannot_be_is_refused) {
  const std::string now = "2027-04-02T08:00:00Z";
  EXPECT_EQ(refused({"tend", "sing", "G1", "--now", now}), "unknown-task");
  EXPECT_EQ(refused({"tend", "look", "G9", "--now", now}), "not-there");
  EXPECT_EQ(refused({"tend", "look", "G1", "--wilted", "5", "--now", now}), "more-than-stand");
  EXPECT_EQ(refused({"tend", "mist", "G1", "--wilted", "1", "--now", now}), "bad-count");
  EXPECT_EQ(refused({"tend", "mist", "G1", "--time", "9:00", "--now", now}), "unknown-time");
  EXPECT_EQ(refused({"tend", "look", "G1", "--at", "2027-03-31T08:00:00Z", "--now", now}),
            "before-the-graft");
}

}  // namespace
}  // namespace takehold::client
