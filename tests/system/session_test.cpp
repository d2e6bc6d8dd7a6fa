// Recording at a real terminal, line by line, as wet hands and typing callipers do it.
#include <gmock/gmock.h>

#include "tests/system/terminal.hpp"

namespace takehold::testing {
namespace {

using nlohmann::json;

class Session : public TerminalPlace {
 protected:
  void SetUp() override {
    write("season.toml", small_sheet(day_ago(-14)));
    now_ = days_ago(40);
    done({"season", "load", file("season.toml")});
    done({"sow", "QP", "6", "--as", "scion"});
    done({"sow", "IF", "6", "--as", "rootstock"});
  }
  json records(const std::string& table) const {
    const auto text =
        output_of("sqlite3 -json -readonly '" + book() + "' 'SELECT * FROM " + table + "_now'");
    return text.empty() ? json::array() : json::parse(text);
  }
};

TEST_F(Session, stems_are_typed_one_a_line_and_a_slip_is_caught) {
  for (const char* sowing : {"S1", "S2"}) done({"emerged", sowing, "4"});
  now_ = days_ago(22);
  open_terminal({"measure"});
  ASSERT_TRUE(shows("Next S1, QP (Quarry Pink), 4 standing")) << screen();
  type_line("");  // Enter accepts
  ASSERT_TRUE(shows("S1-1:")) << screen();
  type_line("2.0");
  type_line("23");  // a lost point
  ASSERT_TRUE(shows("Enter takes 2.3 mm")) << screen();
  type_line("");
  ASSERT_TRUE(shows("S1-3:")) << screen();
  type_line("2.9");
  type_line("u");  // and back
  ASSERT_TRUE(shows("S1-3 taken back, it was 2.9 mm")) << screen();
  type_line("2,1");
  type_line("2.2");
  type_line("");
  ASSERT_TRUE(shows("S1: 4 stems, 2.00 to 2.30 mm")) << screen();
  ASSERT_TRUE(shows("Next S2")) << screen();
  type_line("q");
  ASSERT_TRUE(closes());
  const auto measured = records("measurement");
  ASSERT_EQ(measured.size(), 1U);
  EXPECT_EQ(json::parse(measured[0]["stems"].get<std::string>()),
            json::parse(R"([{"number":1,"diameter_mm":2.0},{"number":2,"diameter_mm":2.3},
                            {"number":3,"diameter_mm":2.1},{"number":4,"diameter_mm":2.2}])"));
  EXPECT_EQ(measured[0]["full"], 1);
}

TEST_F(Session, counts_are_asked_for_and_fewer_than_before_wants_a_cause) {
  done({"emerged", "S1", "5"});
  now_ = days_ago(32);
  open_terminal({"emerged"});
  ASSERT_TRUE(shows("S1, QP (Quarry Pink), 5 standing. Standing now:")) << screen();
  type_line("3");
  ASSERT_TRUE(shows("2 fewer than before. Of what did they die?")) << screen();
  type_line("damped-off");
  ASSERT_TRUE(shows("S2, IF (Ironfoot), 6 sown, not counted yet. Standing now:")) << screen();
  type_line("9");
  ASSERT_TRUE(shows("9 standing, but 6 seeds were sown")) << screen();
  type_line("4");
  ASSERT_TRUE(shows("That was the last. Enter ends")) << screen();
  type_line("");
  ASSERT_TRUE(closes()) << screen();
  EXPECT_EQ(records("emerged").size(), 2U);
  ASSERT_EQ(records("loss").size(), 1U);
  EXPECT_EQ(records("loss")[0]["cause"], "damped-off");
}

TEST_F(Session, done_asks_for_what_its_line_lacks) {
  now_ = days_ago(32);
  const auto tasks = done({"today"})["tasks"];
  ASSERT_EQ(tasks[0]["what"], "count");
  open_terminal({"done", "1"});
  ASSERT_TRUE(shows(": how many stand?")) << screen();
  type_line("5");
  ASSERT_TRUE(closes());
  ASSERT_EQ(records("emerged").size(), 1U);
  EXPECT_EQ(records("emerged")[0]["standing"], 5);
  EXPECT_EQ(records("emerged")[0]["sowing"], tasks[0]["about"]);
}

}  // namespace
}  // namespace takehold::testing
