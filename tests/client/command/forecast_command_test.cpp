#include <fstream>

#include "client/season/planned.hpp"
#include "tests/client/command/season_book.hpp"

namespace takehold::client {
namespace {

class ForecastCommand : public SeasonBook {
 protected:
  ForecastCommand() {
    done({"sow", "IF-26", "12", "--as", "rootstock", "--at", "2027-03-22T09:00:00Z"});
    done({"sow", "QP-24", "12", "--as", "scion", "--at", "2027-03-25T09:00:00Z"});
  }
  nlohmann::json forecast(std::vector<std::string> more = {}) const {
    std::vector<std::string> words{"forecast", "P1", "--seasons", "200", "--no-advice"};
    words.insert(words.end(), more.begin(), more.end());
    return done(words);
  }
  /// So many grafts of P1 on that day of April.
  void plan_grafts(int grafts, unsigned day) const {
    open().record("a plan", *sensors::parse_instant("2027-03-01T08:00:00Z"), [&](Recorder& r) {
      PlannedGraft graft;
      graft.id = r.next_number(Kind::planned_graft);
      graft.pairing = "P1";
      graft.graft_on = sensors::make_day(2027, 4, day);
      graft.grafts = grafts;
      r.put(graft);
    });
  }
  void write(const std::string& name, const std::string& text) const {
    std::ofstream(folder_ / name) << text;
  }
};

TEST_F(ForecastCommand, tells_days_pairs_and_chances_by_the_contract) {
  const auto told = forecast();
  EXPECT_LE(told["graft_on"]["p10"], told["graft_on"]["p50"]);
  EXPECT_LE(told["graft_on"]["p50"], told["graft_on"]["p90"]);
  EXPECT_FALSE(told["by_day"].empty());
  EXPECT_TRUE(told["by_day"][0].contains("matched_pairs"));
  EXPECT_GT(told["matched_pairs"]["mean"], 0);
  EXPECT_TRUE(told["advice"].is_array());
  EXPECT_EQ(told["forecasts"].size(), 1U);
}

TEST_F(ForecastCommand, thick_stems_match_today) {
  done({"emerged", "S1", "10"});
  done({"emerged", "S2", "10"});
  done({"measure", "S1", "1.9", "2.0", "2.0", "1.9", "1.95"});
  done({"measure", "S2", "1.9", "2.0", "2.0", "1.9", "1.95"});
  EXPECT_GT(forecast()["by_day"][0]["matched_pairs"], 5);
}

TEST_F(ForecastCommand, thin_stems_match_only_days_later) {
  done({"emerged", "S1", "10"});
  done({"emerged", "S2", "10"});
  done({"measure", "S1", "1.2", "1.25", "1.3", "1.2", "1.2"});
  done({"measure", "S2", "1.2", "1.25", "1.3", "1.2", "1.2"});
  const auto told = forecast();
  EXPECT_LT(told["by_day"][0]["matched_pairs"], 1);
  EXPECT_GT(told["graft_on"]["p10"], "2027-04-15");
}

TEST_F(ForecastCommand, a_sowing_stands_for_its_pairing) {
  EXPECT_EQ(done({"forecast", "S2", "--seasons", "100", "--no-advice"})["pairing"], "P1");
}

TEST_F(ForecastCommand, today_tells_of_grafts_that_come_near_once_seedlings_were_counted) {
  const auto line = [&] { return done({"today"})["forecast"]; };
  EXPECT_TRUE(line().empty());  // nothing planned
  plan_grafts(5, 18);
  EXPECT_TRUE(line().empty());  // nothing counted
  done({"emerged", "S1", "10"});
  done({"emerged", "S2", "10"});
  const auto told = line();
  ASSERT_EQ(told.size(), 1U);
  EXPECT_EQ(told[0]["pairing"], "P1");
  EXPECT_EQ(told[0]["planned_on"], "2027-04-18");
  EXPECT_LE(told[0]["graft_on"]["p10"], told[0]["graft_on"]["p90"]);
  done({"graft", "P1", "--count", "5"});
  EXPECT_TRUE(line().empty());  // made
}

TEST_F(ForecastCommand, today_asks_for_the_rest_of_a_partial_session_for_some_days) {
  plan_grafts(5, 12);
  const auto grafts = [&](const char* now) {
    nlohmann::json found;
    const auto today = done({"today", "--now", now});
    for (const auto& task : today["tasks"]) {
      if (task["what"] == "graft") found.push_back(task["count"]);
    }
    return found.dump();
  };
  EXPECT_EQ(grafts("2027-04-12T09:30:00Z"), "[5]");
  done({"graft", "P1", "--count", "2"});
  EXPECT_EQ(grafts("2027-04-12T09:40:00Z"), "[3]");
  done({"graft", "P1", "--count", "1", "--now", "2027-04-13T09:00:00Z"});
  EXPECT_EQ(grafts("2027-04-18T09:00:00Z"), "[2]");
  EXPECT_EQ(grafts("2027-04-19T09:00:00Z"), "null");
}

using ForecastWithoutTrays = SeasonBook;

TEST_F(ForecastWithoutTrays, is_refused) {
  EXPECT_EQ(refused({"forecast"}), "nothing-sown");
}

TEST_F(ForecastCommand, growth_show_gives_the_data_and_a_band_that_widens_with_what_is_not_known) {
  done({"emerged", "S2", "10"});
  const auto before = done({"growth", "show", "QP-24"});
  EXPECT_FALSE(before["measured"]);
  done({"measure", "S2", "1.9", "2.0", "2.0", "1.9", "1.95", "2.05"});
  const auto after = done({"growth", "show", "QP-24"});
  const auto width = [](const nlohmann::json& shown) {
    const auto& last = shown["sowings"][0]["band"].back();
    return last["p95_mm"].get<double>() - last["p05_mm"].get<double>();
  };
  EXPECT_EQ(after["sowings"][0]["stems"].size(), 6U);
  EXPECT_LT(width(after), 0.8 * width(before));
}

// NIST Rat42 (certified values as in curve_fit_test.cpp), with names, comments and two ways to
// part.
TEST_F(ForecastCommand, growth_fit_reads_tables_as_people_write_them) {
  write("rat42.csv",
        "x,y\n# pasture\n9,8.93\n14,10.80\n21;18.59\n28 22.33\r\n42\t39.35\n57,56.11\n\n63,61.73\n"
        "70,64.62\n79,67.08\n");
  const auto fits = done({"growth", "fit", (folder_ / "rat42.csv").string(), "--curve", "logistic",
                          "--start", "100,1,0.1", "--at", "100"})["fits"];
  EXPECT_NEAR(fits[0]["parameters"]["A"]["value"], 72.462237576, 1e-5);
  EXPECT_TRUE(fits[0]["asymptote_supported"]);
  EXPECT_NEAR(fits[0]["at"]["y"], 71.30, 0.01);
}

TEST_F(ForecastCommand, growth_fit_foretells_nothing_beyond_points_that_do_not_level_off) {
  write("line.csv", "1 1.0\n2 2.05\n3 2.98\n4 4.02\n5 5.01\n6 5.98\n");
  const auto file = (folder_ / "line.csv").string();
  const auto beyond = done({"growth", "fit", file, "--curve", "bounded", "--at", "12"})["fits"][0];
  EXPECT_FALSE(beyond["asymptote_supported"]);
  EXPECT_TRUE(beyond["at"].is_null());
  EXPECT_NEAR(
      done({"growth", "fit", file, "--curve", "bounded", "--at", "3.5"})["fits"][0]["at"]["y"], 3.5,
      0.05);
}

TEST_F(ForecastCommand, growth_fit_names_the_line_it_cannot_read) {
  write("bad.csv", "x,y\n1,2\nthree,4\n");
  const Said said = told({"growth", "fit", (folder_ / "bad.csv").string()});
  EXPECT_EQ(said.exit_code, 1);
  EXPECT_NE(said.document()["error"]["where"].get<std::string>().find("bad.csv:3"),
            std::string::npos);
}

}  // namespace
}  // namespace takehold::client
