#include "client/season/sheet.hpp"
#include "embedded/places.hpp"

#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

namespace takehold::client {
namespace {

std::string example(const std::string& name) {
  std::ifstream file(std::string(TAKEHOLD_SOURCE_DIR "/config/examples/") + name + "/season.toml");
  std::stringstream text;
  text << file.rdbuf();
  return text.str();
}

std::string with(const std::string& more) {
  return example("minimal") + more;
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const auto at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return text.replace(at, from.size(), to);
}

sensors::Problem mistake(const std::string& text) {
  try {
    read_sheet(text, "sheet.toml");
  } catch (const sensors::Refused& e) {
    return e.problem();
  }
  ADD_FAILURE() << "the sheet was taken";
  return {};
}

int line_of(const std::string& text, const std::string& what, int nth = 1) {
  std::istringstream lines(text);
  std::string line;
  for (int number = 1; std::getline(lines, line); ++number)
    if (line.find(what) != std::string::npos && --nth == 0) return number;
  return 0;
}

std::string at_line(int line) {
  return "sheet.toml:" + std::to_string(line);
}

TEST(SeasonSheet, with_every_key_says_what_is_written_in_it) {
  const Sheet sheet = read_sheet(example("full"), "full.toml");
  const Season& season = sheet.season;
  EXPECT_EQ(season.season, "2027");
  EXPECT_EQ(season.ready_on, sensors::make_day(2027, 5, 15));
  EXPECT_EQ(season.free_days, (std::vector{Weekday::sat, Weekday::sun}));
  EXPECT_EQ(season.away,
            (std::vector{Away{sensors::make_day(2027, 4, 1), sensors::make_day(2027, 4, 4)}}));
  EXPECT_EQ(season.cell_price, 0.05);
  EXPECT_EQ(season.grafts_per_day, 60);
  EXPECT_EQ(season.places, 60);
  EXPECT_EQ(sheet.beds.at(0).troubles, (std::vector<std::string>{"Ma", "Fol:1"}));
  EXPECT_EQ(sheet.varieties.at(1).species, Species::interspecific);
  EXPECT_EQ(sheet.varieties.at(1).tmv_genes, TmvGenes::tm_2_2);
  EXPECT_EQ(sheet.lots.at(1).packet_seeds, 25);
  ASSERT_EQ(sheet.lot_tests.size(), 3u);
  EXPECT_EQ(sheet.lot_tests[1].key(), "QP-24@2027-02-07");
  EXPECT_EQ(sheet.lot_tests[2].sprouted, 9);
  EXPECT_EQ(sheet.pairings.at(0).ready_on, sensors::make_day(2027, 5, 22));
  EXPECT_EQ(sheet.own_roots.at(0).want, 2);
}

TEST(SeasonSheet, left_out_keys_have_the_defaults_of_the_formats_page) {
  const Sheet sheet = read_sheet(example("minimal"), "minimal.toml");
  EXPECT_EQ(sheet.season.confidence, 0.90);
  EXPECT_EQ(sheet.season.cells_per_tray, 6);
  EXPECT_EQ(sheet.season.seeds_per_cell, 2);
  EXPECT_EQ(sheet.season.tolerance_pct, 10);
  EXPECT_EQ(sheet.season.window_days, 2);
  EXPECT_TRUE(sheet.season.free_days.empty());
  EXPECT_EQ(sheet.varieties.at(0).role, Role::both);
  EXPECT_EQ(sheet.pairings.at(0).weight, 1.0);
  EXPECT_EQ(sheet.pairings.at(0).method, Method::splice);
}

TEST(SeasonSheet, written_and_read_again_says_the_same) {
  for (const char* name : {"minimal", "typical", "full"}) {
    const Sheet sheet = read_sheet(example(name), name);
    const Sheet again = read_sheet(write_sheet(sheet), name);
    EXPECT_EQ(again.season, sheet.season) << name;
    EXPECT_EQ(again.benches, sheet.benches) << name;
    EXPECT_EQ(again.beds, sheet.beds) << name;
    EXPECT_EQ(again.varieties, sheet.varieties) << name;
    EXPECT_EQ(again.lots, sheet.lots) << name;
    EXPECT_EQ(again.lot_tests, sheet.lot_tests) << name;
    EXPECT_EQ(again.pairings, sheet.pairings) << name;
    EXPECT_EQ(again.own_roots, sheet.own_roots) << name;
  }
}

TEST(SeasonSheet, a_new_one_can_be_read_as_it_is) {
  const Sheet sheet =
      read_sheet(new_sheet(sensors::make_day(2028, 5, 20), "Europe/Lisbon"), "new.toml");
  EXPECT_EQ(sheet.season.season, "2028");
  EXPECT_EQ(sheet.season.ready_on, sensors::make_day(2028, 5, 20));
  EXPECT_EQ(sheet.benches.size(), 1u);
}

TEST(SeasonSheet, an_unknown_key_is_named_with_its_line_and_the_nearest) {
  const auto text = with("wnat = 3\n");
  const auto problem = mistake(text);
  EXPECT_EQ(problem.code, "unknown-key");
  EXPECT_EQ(problem.where, at_line(line_of(text, "wnat")));
  EXPECT_NE(problem.sentence().find("want"), std::string::npos) << problem.sentence();
}

TEST(SeasonSheet, a_date_that_does_not_exist_is_named_with_its_line) {
  const auto text = replaced(example("minimal"), "2027-05-15", "2027-02-30");
  const auto problem = mistake(text);
  EXPECT_EQ(problem.where.substr(0, 12), "sheet.toml:3") << problem.where;
}

TEST(SeasonSheet, a_label_that_stands_twice_names_both_lines) {
  const auto text = with("\n[[lot]]\nlabel = \"qp-24\"\nvariety = \"Quarry Pink\"\nseeds = 1\n");
  const auto problem = mistake(text);
  EXPECT_EQ(problem.code, "twice");
  EXPECT_EQ(problem.where, at_line(line_of(text, "[[lot]]", 3)));
  EXPECT_NE(problem.detail.find(at_line(line_of(text, "[[lot]]", 1))), std::string::npos)
      << problem.detail;
}

TEST(SeasonSheet, a_variety_that_is_not_there_is_named_where_it_is_used) {
  const auto text =
      replaced(example("minimal"), "rootstock = \"Ironfoot\"", "rootstock = \"Ironfoto\"");
  const auto problem = mistake(text);
  EXPECT_EQ(problem.code, "not-there");
  EXPECT_EQ(problem.where, at_line(line_of(text, "Ironfoto")));
  EXPECT_NE(problem.hint.find("Ironfoot"), std::string::npos);
}

TEST(SeasonSheet, a_scion_only_variety_is_no_rootstock) {
  EXPECT_EQ(mistake(replaced(example("minimal"), "role = \"rootstock\"", "role = \"scion\"")).code,
            "wrong-role");
}

TEST(SeasonSheet, a_lot_of_another_variety_cannot_serve_a_pairing) {
  EXPECT_EQ(mistake(with("scion_lot = \"IF-26\"\n")).code, "wrong-lot");
  EXPECT_EQ(mistake(with("scion_lot = \"ZZ-1\"\n")).code, "not-there");
}

TEST(SeasonSheet, values_out_of_bounds_are_refused_at_their_line) {
  struct Case {
    const char* from;
    const char* to;
  };
  for (const Case& c : {Case{"seeds = 30", "seeds = -1"}, Case{"want = 6", "want = -6"},
                        Case{"want = 6", "want = 6\nweight = 0"},
                        Case{"season = \"2027\"", "confidence = 1.0\nseason = \"2027\""},
                        Case{"label = \"QP-24\"", "label = \"QP 24\""},
                        Case{"name = \"Ironfoot\"", "name = \"Iron/foot\""},
                        Case{"seeds = 30",
                             "seeds = 30\ntested = { sprouted = 21, sown = 20, "
                             "on = 2027-01-10 }"},
                        Case{"seeds = 30", "seeds = 30\norigin = \"found\""},
                        Case{"season = \"2027\"",
                             "time_zone = \"Europe/Nowhere\"\n"
                             "season = \"2027\""},
                        Case{"season = \"2027\"",
                             "away = [[2027-04-04, 2027-04-01]]\n"
                             "season = \"2027\""}}) {
    const auto problem = mistake(replaced(example("minimal"), c.from, c.to));
    EXPECT_TRUE(problem.where.starts_with("sheet.toml:")) << c.to << ": " << problem.where;
  }
}

TEST(SeasonSheet, all_mistakes_are_told_at_once) {
  const auto text = replaced(with("method = \"glue\"\n"), "seeds = 30", "seeds = \"many\"");
  const auto sentence = mistake(text).sentence();
  EXPECT_NE(sentence.find(at_line(line_of(text, "glue"))), std::string::npos) << sentence;
  EXPECT_NE(sentence.find(at_line(line_of(text, "many"))), std::string::npos) << sentence;
}

TEST(SeasonSheet, what_it_must_say_is_asked_for) {
  EXPECT_EQ(mistake(replaced(example("minimal"), "ready_on = 2027-05-15\n", "")).code,
            "missing-key");
}

// From the last frost with margin; a ready_on that is given rules.
TEST(Sheet, ready_on_follows_from_the_last_frost) {
  const std::string given = example("minimal");
  const auto from = [&](const std::string& place) {
    return replaced(given, "ready_on = 2027-05-15\n", place);
  };
  const std::string frost = "[place]\nlast_frost = 2027-04-28\n";
  // Tables may stand before the next table only: put behind the top-level keys.
  const auto read = [&](std::string text, const std::string& place) {
    const auto table = text.find("\n[");
    return read_sheet(text.insert(table, "\n" + place), "s.toml").season.ready_on;
  };
  EXPECT_EQ(read(from(""), frost), sensors::make_day(2027, 5, 12));
  EXPECT_EQ(read(from(""), frost + "frost_margin_days = 20\n"), sensors::make_day(2027, 5, 18));
  EXPECT_EQ(read(given, frost), sensors::make_day(2027, 5, 15));
  EXPECT_THROW(read(from(""), "[place]\nfrost_margin_days = 20\n"), sensors::Refused);
  EXPECT_THROW(read(from(""), frost + "frost_margin_days = -3\n"), sensors::Refused);
  EXPECT_THROW(read(from(""), frost + "late_frost = 2027-05-01\n"), sensors::Refused);
}

}  // namespace
}  // namespace takehold::client
