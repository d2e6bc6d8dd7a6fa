#include "client/command/typed_stems.hpp"

#include <gtest/gtest.h>

namespace takehold::client {
namespace {

using sensors::Problem;
using sensors::Refused;

template <class F>
Problem problem_of(F&& call) {
  try {
    call();
  } catch (const Refused& refused) {
    return refused.problem();
  }
  ADD_FAILURE() << "nothing was refused";
  return {};
}

std::vector<TypedStem> typed(std::vector<std::string> words) {
  return read_typed_stems(words, Units::metric);
}

TEST(TypedStems, numbers_and_numbered_seedlings_are_read_in_order) {
  const auto stems = typed({"2.0", "2,1", "5=2.3", "1.9mm", "0.1in"});
  ASSERT_EQ(stems.size(), 5u);
  EXPECT_EQ(stems[0].diameter.um(), 2000);
  EXPECT_EQ(stems[1].diameter.um(), 2100);
  EXPECT_FALSE(stems[1].seedling);
  EXPECT_EQ(stems[2].seedling, 5);
  EXPECT_EQ(stems[2].diameter.um(), 2300);
  EXPECT_EQ(stems[3].diameter.um(), 1900);
  EXPECT_EQ(stems[4].diameter.um(), 2540);
}

TEST(TypedStems, a_lost_decimal_point_is_refused_with_what_was_meant) {
  const auto problem = problem_of([] { typed({"2.0", "23"}); });
  EXPECT_EQ(problem.code, "bad-diameter");
  EXPECT_NE(problem.where.find("23"), std::string::npos);
  EXPECT_NE(problem.hint.find("2.3"), std::string::npos);
}

TEST(TypedStems, words_that_are_no_diameter_are_refused) {
  for (const char* word : {"x", "2.0x", "", "-2", "nan", "0=2.0", "a=2.0", "5=", "1,2,3", "0"}) {
    EXPECT_EQ(problem_of([&] { typed({word}); }).code, "bad-diameter") << word;
  }
}

TEST(StemList, blank_and_hash_lines_do_not_count) {
  const auto stems = read_stem_list("# caliper\n2.0\n\n  2,1 \r\n#x\n1.95", "roots.txt");
  ASSERT_EQ(stems.size(), 3u);
  EXPECT_EQ(stems[1].um(), 2100);
  EXPECT_EQ(stems[2].um(), 1950);
}

TEST(StemList, a_bad_line_is_named_by_file_and_line) {
  EXPECT_EQ(problem_of([] { read_stem_list("2.0\n\ntwo\n", "roots.txt"); }).where, "roots.txt:3");
  EXPECT_EQ(problem_of([] { read_stem_list("23\n", "roots.txt"); }).where, "roots.txt:1");
}

}  // namespace
}  // namespace takehold::client
