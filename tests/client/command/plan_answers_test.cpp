// What plan, today, labels and trays tell, as it is told.
#include <gmock/gmock.h>

#include <map>

#include "tests/client/command/book_support.hpp"

namespace takehold::client {
namespace {

using nlohmann::json;
using testing::HasSubstr;
using testing::Not;

class PlanAnswers : public BookTest {
 protected:
  void change_sheet(const std::string& from, const std::string& to) {
    std::string sheet = read("2027.toml");
    sheet.replace(sheet.find(from), from.size(), to);
    write("2027.toml", sheet);
  }
  void tell(const std::vector<std::string>& words) {
    const Said said = say(words);
    ASSERT_EQ(said.exit_code, kDone) << said.err;
  }
};

TEST_F(PlanAnswers, the_text_marks_what_is_own_and_what_is_assumed) {
  change_sheet("origin = \"fermented\"",
               "origin = \"fermented\"\ntested = { sprouted = 18, sown = 20, on = 2027-01-10 }");
  const std::string text = say({"plan", file("2027.toml")}).out;
  EXPECT_THAT(text, testing::ContainsRegex("QP-24 +8[0-9] in 100 own +.0 % assumed"));
  EXPECT_THAT(text, testing::ContainsRegex("IF-26 +8[0-9] in 100 assumed +.30 % assumed"));
  EXPECT_THAT(text, HasSubstr("80 % take, assumed: no graft was judged yet"));
  const std::string why = say({"plan", file("2027.toml"), "--explain", "quarry/iron"}).out;
  EXPECT_THAT(why, HasSubstr("Own record: 20 seeds tested"));
  EXPECT_THAT(why, HasSubstr("Share that takes"));
}

TEST_F(PlanAnswers, another_packet_is_told_with_its_gain_and_price) {
  change_sheet("seeds = 80\nprice = 9.50", "seeds = 12\nprice = 9.50\npacket_seeds = 6");
  const Said told = say({"plan", file("2027.toml")});
  const json buy = say_json({"plan", file("2027.toml")}).document()["plan"]["buy"][0];
  EXPECT_EQ(buy["lot"], "IF-26");
  EXPECT_EQ(buy["packets"][0]["seeds"], 6);
  EXPECT_THAT(told.out, HasSubstr("Of IF-26, 1 packet (6 seeds, 9.50) gains "));
  EXPECT_THAT(told.out, HasSubstr("; 2 (12 seeds, 19.00) "));
  double last = 0;
  for (const json& packet : buy["packets"]) {
    EXPECT_GE(packet["plants_gained"].get<double>(), last - 1e-9);
    last = packet["plants_gained"];
  }
}

TEST_F(PlanAnswers, what_if_takes_units) {
  const auto with = [&](const std::string& change) {
    const Said said = say_json({"plan", file("2027.toml"), "--what-if", change});
    EXPECT_EQ(said.exit_code, kDone) << said.err;
    return said.document()["what_if"]["plan"]["pairings"];
  };
  EXPECT_EQ(with("bench=68F"), with("bench_degc=20"));
  EXPECT_EQ(with("bench_degc=68F"), with("bench=20C"));
  EXPECT_EQ(with("confidence=80%"), with("confidence=0.8"));
  EXPECT_EQ(with("tolerance_pct=15%"), with("tolerance_pct=15"));
  change_sheet("confidence = 0.90", "confidence = 0.90\nunits = \"us\"");
  EXPECT_EQ(with("bench=68"), with("bench_degc=20"));
  EXPECT_EQ(say({"plan", file("2027.toml"), "--what-if", "bench=20mm"}).exit_code, kWrongUsage);
  EXPECT_EQ(say({"plan", file("2027.toml"), "--what-if", "confidence=95"}).exit_code, kWrongUsage);
}

TEST_F(PlanAnswers, the_chart_of_an_explanation_is_in_the_units_shown) {
  const auto chart = [&] { return say({"plan", file("2027.toml"), "--explain", "q/i"}).out; };
  EXPECT_THAT(chart(), HasSubstr("3.2 mm  pairs"));
  change_sheet("confidence = 0.90", "confidence = 0.90\nunits = \"us\"");
  EXPECT_THAT(chart(), HasSubstr("0.126 in  pairs"));
  EXPECT_THAT(chart(), Not(HasSubstr(" mm")));
}

// The day's trays as the plan lays them out are those that labels and maps name.
TEST_F(PlanAnswers, labels_follow_the_trays_of_the_plan) {
  change_sheet("confidence = 0.90", "confidence = 0.90\nfree_days = [\"Sun\"]");
  tell({"plan", file("2027.toml"), "--accept"});
  const json document = say_json({"plan"}).document();
  std::map<std::string, std::vector<json>> by_day;
  for (const json& tray : document["trays"]) by_day[tray["sow_on"]].push_back(tray);
  std::set<std::string> planned, printed;
  bool is_shared = false;
  for (const auto& [day, trays] : by_day) {
    int number = 0;
    for (const json& tray : trays) {
      ++number;
      is_shared = is_shared || tray["cells"].size() > 1;
      for (const json& run : tray["cells"]) {
        const int first = run["first_cell"], last = first + run["cells"].get<int>() - 1;
        planned.insert(
            "lot " + run["lot"].get<std::string>() + ", tray " + std::to_string(number) + ": " +
            (first == last ? "cell " + std::to_string(first)
                           : "cells " + std::to_string(first) + "-" + std::to_string(last)));
      }
    }
    now_ = day + "T12:00:00Z";
    tell({"sow", "--planned"});
  }
  EXPECT_TRUE(is_shared);
  const json labels = say_json({"labels", "--sowings", "--preview"}).document()["labels"];
  for (const json& label : labels) printed.insert(label["lines"].back().get<std::string>());
  EXPECT_EQ(printed, planned);
  const json maps = say_json({"trays", "--out", file("trays.pdf")}).document()["trays"];
  std::size_t trays = 0;
  for (const auto& [day, list] : by_day) trays += list.size();
  EXPECT_EQ(maps.size(), trays);
}

TEST_F(PlanAnswers, today_asks_for_pricking_out_until_it_is_done) {
  load();
  tell({"sow", "QP-24", "12", "--as", "scion"});  // two a cell
  now_ = "2027-04-11T09:00:00Z";
  tell({"emerged", "S1", "10"});
  const auto task = [&]() -> json {
    const json tasks = say_json({"today"}).document()["tasks"];
    for (const json& one : tasks) {
      if (one["what"] == "prick") return one;
    }
    return {};
  };
  EXPECT_EQ(task()["about"], "S1");
  EXPECT_EQ(task()["count"], 4);  // 10 plants in 6 cells
  EXPECT_EQ(task()["command"], "takehold prick S1 4");
  tell({"prick", "S1", "4"});
  EXPECT_TRUE(task().is_null());
}

}  // namespace
}  // namespace takehold::client
