#include "client/command/stem_list.hpp"

#include <gtest/gtest.h>

#include "sensors/quantity/problem.hpp"

namespace takehold::client {
namespace {

using sensors::Problem;

Problem refusal(std::string_view text) {
  try {
    read_stem_list(text, "roots.txt");
  } catch (const sensors::Refused& refused) {
    return refused.problem();
  }
  ADD_FAILURE() << "not refused: " << text;
  return {};
}

TEST(StemList, blank_and_hash_lines_do_not_count) {
  const auto stems = read_stem_list("# calliper\n2.0\n\n  2,1 \r\n#x\n1.95mm\n0.1in", "roots.txt");
  ASSERT_EQ(stems.size(), 4u);
  EXPECT_EQ(stems[0].um(), 2000);
  EXPECT_EQ(stems[1].um(), 2100);
  EXPECT_EQ(stems[2].um(), 1950);
  EXPECT_EQ(stems[3].um(), 2540);
  EXPECT_TRUE(read_stem_list("", "roots.txt").empty());
}

TEST(StemList, a_bad_line_is_named_by_file_and_line) {
  EXPECT_EQ(refusal("2.0\n\ntwo\n").where, "roots.txt:3");
  for (const char* text : {"2.0x", "-2", "nan", "0", "1,2,3", "2.0 2.1"}) {
    EXPECT_EQ(refusal(text).code, "bad-diameter") << text;
    EXPECT_EQ(refusal(text).where, "roots.txt:1") << text;
  }
}

TEST(StemList, a_lost_decimal_point_is_refused_with_what_was_meant) {
  EXPECT_NE(refusal("23\n").hint.find("2.3"), std::string::npos);
  EXPECT_NE(refusal("195\n").hint.find("1.95"), std::string::npos);
}

}  // namespace
}  // namespace takehold::client
