// takes by everything it can be gathered by, causes and trials, on a real book.
#include <fmt/format.h>

#include <set>

#include "tests/client/command/season_book.hpp"

namespace takehold::client {
namespace {

class Causes : public SeasonBook {
 protected:
  // Three batches: two spliced, one cleft; losses noted by number.
  Causes() {
    for (const char* lot : {"QP-24", "IF-26"}) done({"lot", "edit", lot, "--seeds", "60"});
    done({"sow", "QP-24", "30", "--on", "2027-03-10"});
    done({"sow", "IF-26", "30", "--on", "2027-03-08"});
    done({"emerged", "S1", "28", "--on", "2027-03-25"});
    done({"emerged", "S2", "28", "--on", "2027-03-25"});
    graft("splice", "2027-03-28", "first");
    graft("splice", "2027-04-01", "second");
    graft("cleft", "2027-04-01", "first");
    lose("G1", "2", "wilted", "2027-03-30");
    lose("G2", "1", "rotted", "2027-04-06");
    lose("G3", "1,2,3", "wilted", "2027-04-02");
    for (const char* batch : {"G1", "G2"}) done({"finish", batch, "--on", "2027-04-10"});
  }
  void graft(const char* method, const char* on, const char* by) const {
    done({"graft", "P1", "--count", "8", "--method", method, "--by", by, "--on", on});
  }
  void lose(const char* batch, const char* plants, const char* cause, const char* on) const {
    done({"lose", batch, "--plants", plants, "--cause", cause, "--on", on});
  }
  std::string text(std::vector<std::string> words) const {
    words.insert(words.end(), {"--book", (folder_ / "book.db").string()});
    const Said said = run(words);
    EXPECT_EQ(said.exit_code, 0) << said.err;
    return said.out;
  }
};

TEST_F(Causes, takes_are_gathered_by_whatever_the_batches_share) {
  const auto rows = [&](const char* by) { return done({"takes", "--by", by})["rows"]; };
  EXPECT_EQ(rows("rootstock")[0]["group"], "Ironfoot");
  EXPECT_TRUE(rows("rootstock")[0]["pairing"].is_null());
  EXPECT_EQ(rows("rootstock")[0]["grafted"], 16);
  EXPECT_EQ(rows("rootstock")[0]["taken"], 14);
  EXPECT_EQ(rows("method").size(), 1u);  // the cleft batch is pending
  EXPECT_EQ(rows("operator").size(), 2u);
  ASSERT_EQ(rows("month").size(), 2u);
  EXPECT_EQ(rows("month")[0]["group"], "March");
  EXPECT_EQ(rows("month")[1]["group"], "April");
  EXPECT_EQ(rows("mismatch")[0]["group"], "not noted");
  EXPECT_EQ(rows("regime")[0]["group"], "steady");
  EXPECT_EQ(rows("scion")[0]["group"], "Quarry Pink");
  EXPECT_EQ(done({"takes"})["pending"][0]["batch"], "G3");
  EXPECT_EQ(told({"takes", "--by", "moon"}).exit_code, 2);
}

TEST_F(Causes, groups_are_compared_like_pairings) {
  const auto found = done({"compare", "mar", "apr", "--by", "month"});
  EXPECT_NEAR(found["probability_a_better"], 0.5, 1e-6);
  EXPECT_NEAR(found["fisher_p"], 1.0, 1e-9);
  EXPECT_TRUE(found["more_needed_each"].is_null());
}

TEST_F(Causes, losses_stand_by_cause_and_day_and_too_few_are_said_in_words) {
  const auto found = done({"causes"});
  EXPECT_EQ(found["grafts"], 16);
  EXPECT_EQ(found["failures"], 2);
  EXPECT_TRUE(found["effects"].empty());
  std::map<std::string, int> days;
  for (const auto& loss : found["losses"]) {
    days[loss["cause"].get<std::string>() + loss["day"].dump()] += loss["count"].get<int>();
  }
  EXPECT_EQ(days, (std::map<std::string, int>{{"wilted1", 3}, {"wilted2", 1}, {"rotted5", 1}}));
  std::set<std::string> codes;
  for (const auto& left : found["left_out"]) codes.insert(left["code"]);
  EXPECT_TRUE(codes.contains("too-few"));
  EXPECT_TRUE(codes.contains("not-noted"));
  EXPECT_EQ(found["try"].size(), 3u);
}

TEST_F(Causes, an_association_is_never_called_a_cause) {
  done({"finish", "G3", "--on", "2027-04-10"});
  const std::string said = text({"causes"});
  EXPECT_NE(said.find("too few failures to tell"), std::string::npos) << said;
  EXPECT_EQ(said.find("because"), std::string::npos) << said;
  EXPECT_EQ(said.find("caused"), std::string::npos) << said;
}

// What `causes` proposes can be typed as it stands.
TEST_F(Causes, a_trial_is_laid_out_evenly_and_by_lot) {
  const auto trial = done({"trial", "design", "P1", "--ways", "splice,cleft", "--each", "15",
                           "--rates", "0.6,0.95", "--cells", "6"});
  EXPECT_NEAR(trial["power"], 0.5, 0.2);
  ASSERT_EQ(trial["places"].size(), 30u);
  std::map<int, int> balance;
  std::string order;
  for (const auto& place : trial["places"]) {
    const bool splice = place["way"] == "splice";
    balance[place["tray"]] += splice ? 1 : -1;
    order += splice ? 'A' : 'B';
  }
  EXPECT_EQ(balance.size(), 5u);
  for (const auto& [tray, surplus] : balance) EXPECT_EQ(surplus, 0) << tray;
  EXPECT_EQ(order.find("ABABABABABAB"), std::string::npos);
  const auto again = done({"trial", "design", "P1", "--ways", "splice,cleft", "--each", "15",
                           "--rates", "0.6,0.95", "--cells", "6"});
  EXPECT_EQ(again, trial);
  const auto other = done({"trial", "design", "P1", "--ways", "splice,cleft", "--each", "15",
                           "--rates", "0.6,0.95", "--cells", "6", "--seed", "2"});
  EXPECT_NE(other["places"], trial["places"]);
}

TEST_F(Causes, a_trial_without_a_size_gets_the_fewest_grafts_that_tell_8_times_in_10) {
  const auto trial = done({"trial", "design", "P1", "--ways", "old,new", "--rates", "0.6,0.95"});
  EXPECT_GE(trial["power"], 0.8);
  EXPECT_LT(trial["power"], 0.86);
  EXPECT_EQ(refused({"trial", "design", "P1", "--ways", "old,new", "--rates", "0.9,0.91"}),
            "too-alike");
  EXPECT_EQ(told({"trial", "design", "P1"}).exit_code, 2);
  EXPECT_EQ(told({"trial", "design", "P1", "--ways", "a,b", "--rates", "0.9,1.5"}).exit_code, 2);
}

}  // namespace
}  // namespace takehold::client
