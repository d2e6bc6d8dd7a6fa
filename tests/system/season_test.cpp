// A whole season with both programs: from the sheet to the take rate, a real chamber in between.
#include <gmock/gmock.h>

#include <set>

#include "tests/system/terminal.hpp"

namespace takehold::testing {
namespace {

using namespace std::chrono_literals;
using nlohmann::json;
using ::testing::HasSubstr;

// The season ends today, for the chamber's clock is the real one: planned 45 days ago, grafted 7
// days ago, ready in a week (the built-in healing plan takes 14 days).
class WholeSeason : public RealPlace {
 protected:
  void plan_and_sow() {
    write("season.toml", small_sheet(day_ago(-7)));
    now_ = days_ago(45);
    EXPECT_EQ(done({"season", "load", file("season.toml")})["added"].size(), 7U);
    const auto plan = done({"plan", "--accept"})["plan"];
    ASSERT_EQ(plan["pairings"][0]["graft_on"], day_ago(7));
    std::set<std::string> days;
    for (const auto& line : plan["sowings"]) days.insert(line["sow_on"]);
    for (const auto& day : days) {
      now_ = day + "T10:00:00Z";
      const auto sown = done({"sow", "--planned"});
      for (const auto& sowing : sown["sowings"]) {
        (sowing["lot"] == "IF" ? rootstocks_ : scions_) = sowing["id"];
      }
    }
    ASSERT_FALSE(rootstocks_.empty());
    ASSERT_FALSE(scions_.empty());
  }

  void follow_seedlings() {
    now_ = days_ago(12);
    for (const auto& sowing : {rootstocks_, scions_}) done({"emerged", sowing, "8"});
    now_ = days_ago(7, 8);
    EXPECT_EQ(done({"measure", rootstocks_}, "2.0 2.1 2.2\n1.9 2.0 2.3 2.1 3.4\n")["full"], true);
    EXPECT_EQ(
        done({"measure", scions_, "2.1", "2.0", "2.2", "1.5", "1.9", "2.0", "2.2", "2.1"})["stems"]
            .size(),
        8U);
  }

  void graft() {
    now_ = days_ago(7);
    const Said match = told({"match", "P1", "--json"});
    ASSERT_EQ(match.exit_code, 0) << match.err;
    EXPECT_EQ(match.document()["count"], 7);  // 3.4 below and 1.5 above fit nobody
    write("pairs.json", match.out);
    const auto batch = done({"graft", "P1", "--pairs", file("pairs.json"), "--by", "me"});
    EXPECT_EQ(batch["id"], "G1");
    EXPECT_EQ(batch["stage"], "closed");
    EXPECT_TRUE(batch["warnings"].empty()) << batch["warnings"];
    const auto inside = occupant("G1");
    ASSERT_TRUE(inside.is_object());
    EXPECT_EQ(inside["count"], 7);
    EXPECT_EQ(inside["pairing"], "Quarry Pink/Ironfoot");
    EXPECT_EQ(inside["revision"], 1);
  }

  // A week in the chamber of which the daemon saw the last seconds, and those were too dry.
  static void expect_exposure(const json& exposure) {
    ASSERT_TRUE(exposure.is_object());
    EXPECT_EQ(exposure["label"], "G1");
    const double observed = exposure["observed"];
    EXPECT_GT(observed, 0.0);
    EXPECT_LT(observed, 0.01);
    ASSERT_EQ(exposure["stages"].size(), 1U);
    const auto& closed = exposure["stages"][0];
    EXPECT_EQ(closed["stage"], "closed");
    EXPECT_GT(closed["humidity"]["below_h"], 0.0);
    EXPECT_GT(closed["humidity"]["below_kpa_h"], 0.0);
    EXPECT_EQ(closed["humidity"]["above_h"], 0.0);
  }

  std::string rootstocks_, scions_;
};

TEST_F(WholeSeason, goes_from_the_sheet_through_the_chamber_to_the_take_rate) {
  start_probe(80);
  start_daemon();
  plan_and_sow();
  follow_seedlings();
  graft();

  // Closed for 72 h, held 168 h longer: on day 7 still closed, which asks for 95-100 %.
  now_ = days_ago(6);
  EXPECT_EQ(done({"stage", "G1", "--hold", "168"})["stage"], "closed");
  now_.clear();
  EXPECT_EQ(done({"stage", "G1"})["stage"], "closed");
  EXPECT_EQ(occupant("G1")["stage"], "closed");

  // 80 % is wrong for that, and said so: on the screen, as a warning, until it is answered.
  ASSERT_TRUE(
      becomes_true([&] { return !daemon_says("/v1/warnings").at("warnings").empty(); }, 30s));
  const Said chamber = told({"chamber"});
  EXPECT_THAT(chamber.out.substr(0, chamber.out.find('\n')), HasSubstr("WRONG"));
  EXPECT_THAT(chamber.out, HasSubstr("wanted 95 % to 100 %"));
  const auto status = done({"chamber"});
  const std::string warning = status["warnings"][0]["id"];
  EXPECT_EQ(status["occupants"][0]["label"], "G1");
  done({"seen", warning});
  done({"quiet", warning, "--for", "2h"});
  const auto answered = daemon_says("/v1/warnings").at("warnings").at(0);
  EXPECT_FALSE(answered["acknowledged_at"].is_null());
  EXPECT_FALSE(answered["shelved_until_at"].is_null());
  EXPECT_EQ(refused({"seen", "W999"}), "unknown-warning");

  // One wilts; the rest take; both are told to the daemon, and the end is told by both.
  EXPECT_EQ(done({"lose", "G1", "--plants", "3", "--cause", "wilted"})["count"], 1);
  EXPECT_EQ(occupant("G1")["count"], 6);
  const auto finish = done({"finish", "G1", "--taken", "6"});
  EXPECT_EQ(finish["lost"], 1);
  EXPECT_EQ(finish["pending"], 0);
  expect_exposure(finish["exposure"]);
  EXPECT_TRUE(occupant("G1").is_null());
  const auto row = done({"takes"})["rows"][0];
  EXPECT_EQ(row["grafted"], 7);
  EXPECT_EQ(row["taken"], 6);

  // The end taken back: the batch is in the chamber again, here and there. And once more.
  done({"undo"});
  EXPECT_EQ(occupant("G1")["count"], 6);
  EXPECT_EQ(done({"takes"})["rows"][0]["grafted"], 0);
  done({"undo"});
  EXPECT_TRUE(occupant("G1").is_null());
  EXPECT_EQ(done({"takes"})["rows"][0]["taken"], 6);
  const auto nothing = done({"send"});
  EXPECT_TRUE(nothing["notices"].empty());
  EXPECT_TRUE(nothing["exposures"].empty());
}

class Watching : public TerminalPlace {};

TEST_F(Watching, shows_the_chamber_and_says_when_the_daemon_is_gone_and_back) {
  start_probe(97);
  start_daemon();
  open_terminal({"watch"});
  ASSERT_TRUE(shows("probe left (chamber): read")) << screen();
  EXPECT_THAT(screen(), HasSubstr("no warning stands"));
  EXPECT_THAT(screen(), HasSubstr("no batch waits for a stage"));  // the first line, not cut
  kill_daemon();
  ASSERT_TRUE(shows("NO ANSWER")) << screen();
  start_daemon();
  ASSERT_TRUE(becomes_true([&] { return screen().find("NO ANSWER") == std::string::npos; }, 20s))
      << screen();
  press("q");
  EXPECT_TRUE(closes());
}

TEST_F(Watching, gives_one_object_a_line_and_an_object_while_nobody_answers) {
  start_probe(97);
  start_daemon();
  RunningProgram watch(started("takehold", {"watch", "--json"}));
  const auto first = watch.line_beginning("{", 20s);
  ASSERT_TRUE(first);
  EXPECT_TRUE(json::parse(*first).at("air").is_object());
  kill_daemon();
  const auto silence = watch.line_beginning("{\"error\":{\"code\":\"connect-failed\"", 20s);
  ASSERT_TRUE(silence);
  EXPECT_TRUE(json::accept(*silence));
}

}  // namespace
}  // namespace takehold::testing
