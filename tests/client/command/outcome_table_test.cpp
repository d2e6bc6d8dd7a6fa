#include "client/command/outcome_table.hpp"

#include <gtest/gtest.h>

namespace takehold::client {
namespace {

std::string where_refused(std::string_view text) {
  try {
    read_outcomes(text, "t.csv");
  } catch (const sensors::Refused& refused) {
    EXPECT_EQ(refused.problem().code, "bad-outcomes");
    return refused.problem().where;
  }
  return "not refused";
}

TEST(OutcomeTable, columns_are_found_by_name_and_quotes_are_read) {
  const auto rows = read_outcomes(
      "year,taken,grafted,pairing\n2026,45,50,\"Quarry Pink, late/Ironfoot\"\n# "
      "next\n\n2026,0,5,B\n",
      "t.csv");
  ASSERT_EQ(rows.size(), 2u);
  EXPECT_EQ(rows[0].pairing, "Quarry Pink, late/Ironfoot");
  EXPECT_EQ(rows[0].grafted, 50);
  EXPECT_EQ(rows[0].taken, 45);
  EXPECT_EQ(rows[1].taken, 0);
}

TEST(OutcomeTable, rows_of_one_pairing_are_added_up) {
  const auto rows = read_outcomes("pairing,grafted,taken\nA,3,3\nB,1,0\nA,5,2\n", "t.csv");
  ASSERT_EQ(rows.size(), 2u);
  EXPECT_EQ(rows[0].grafted, 8);
  EXPECT_EQ(rows[0].taken, 5);
}

TEST(OutcomeTable, what_cannot_be_is_refused_by_line) {
  EXPECT_EQ(where_refused("pairing,grafted\nA,3\n"), "t.csv:1");
  EXPECT_EQ(where_refused("pairing,grafted,taken\nA,3,4\n"), "t.csv:2");
  EXPECT_EQ(where_refused("pairing,grafted,taken\nA,3,3\nB,-1,0\n"), "t.csv:3");
  EXPECT_EQ(where_refused("pairing,grafted,taken\nA,3\n"), "t.csv:2");
  EXPECT_EQ(where_refused("pairing,grafted,taken\nA,3,2.5\n"), "t.csv:2");
  EXPECT_EQ(where_refused("pairing,grafted,taken\n\"A,3,2\n"), "t.csv:2");
  EXPECT_EQ(where_refused(""), "t.csv");
}

}  // namespace
}  // namespace takehold::client
