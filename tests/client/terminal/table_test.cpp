#include "client/terminal/table.hpp"

#include <gtest/gtest.h>

#include <sstream>

#include "client/terminal/chart.hpp"
#include "client/terminal/text_width.hpp"

namespace takehold::client {
namespace {

TEST(Table, decimal_points_stand_under_each_other) {
  Table table({{"lot"}, {"price", Align::decimal}});
  table.add({"QP-24", "3.10"});
  table.add({"IF-26", "12.5"});
  table.add({"own", "0"});
  table.add({"lost", "-"});
  EXPECT_EQ(table.text({}), "lot    price\nQP-24   3.10\nIF-26  12.5\nown     0\nlost       -\n");
}

TEST(Table, accents_do_not_move_the_columns) {
  Table table({{"variety"}, {"seeds", Align::right}});
  table.add({"Crème", "5"});
  table.add({"Quarry", "12"});
  const TerminalStyle style{80, false, true};
  EXPECT_EQ(table.text(style), "variety  seeds\nCrème        5\nQuarry      12\n");
}

TEST(Table, is_never_wider_than_the_place_and_numbers_stay_whole) {
  Table table({{"name"}, {"n", Align::right}, {"what"}});
  table.add(
      {"a name that is quite long indeed", "123456", "and a text that is longer still, much"});
  std::istringstream lines(table.text({40, false, false}));
  for (std::string line; std::getline(lines, line);) EXPECT_LE(text_width(line), 40) << line;
  EXPECT_NE(table.text({40, false, false}).find("123456"), std::string::npos);
}

TEST(Table, is_whole_in_a_pipe) {
  const std::string name = "a name that is quite long, longer than the place";
  Table table({{"name"}, {"n", Align::right}});
  table.add({name, "123456"});
  TerminalStyle pipe{40, false, false};
  EXPECT_EQ(table.text(pipe).find(name), std::string::npos);
  pipe.cuts = false;
  EXPECT_NE(table.text(pipe).find(name + "  123456"), std::string::npos);
}

TEST(Table, without_rows_says_nothing) {
  EXPECT_EQ(Table({{"name"}}).text({}), "");
}

TEST(Table, colour_is_only_where_it_is_known) {
  Table table({{"name"}});
  table.add({"x"});
  EXPECT_EQ(table.text({80, false, false}).find('\033'), std::string::npos);
  EXPECT_NE(table.text({80, true, false}).find('\033'), std::string::npos);
}

TEST(Chart, draws_a_rise_and_leaves_gaps_open) {
  const std::vector<std::optional<double>> values{0.0, 1.0, std::nullopt, 2.0};
  ChartOptions options;
  options.height = 3;
  EXPECT_EQ(chart_text(values, options, {}), "2 |   *\n1 | *\n0 |*\n");
}

TEST(Chart, of_nothing_is_nothing) {
  const std::vector<std::optional<double>> values{std::nullopt};
  EXPECT_EQ(chart_text(values, {}, {}), "");
}

}  // namespace
}  // namespace takehold::client
