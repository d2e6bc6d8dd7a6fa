#include "client/terminal/text_width.hpp"

#include <gtest/gtest.h>

namespace takehold::client {
namespace {

// Widths as Unicode's own tables give them (UAX #11, EastAsianWidth.txt; UnicodeData.txt category
// Mn), looked up with Python's unicodedata 15.
TEST(TextWidth, accents_are_one_column_marks_none_and_wide_letters_two) {
  EXPECT_EQ(text_width("Quarry"), 6);
  EXPECT_EQ(text_width("Crème"), 5);
  EXPECT_EQ(text_width("Cre\u0300me"), 5);  // the same with a combining mark
  EXPECT_EQ(text_width("\u6771\u4EAC"), 4);
  EXPECT_EQ(text_width("\033[1mbold\033[0m"), 4);
}

TEST(TextWidth, bytes_that_are_no_utf8_count_one_each) {
  EXPECT_EQ(text_width("a\xFFz"), 3);
  EXPECT_EQ(text_width("\xC3"), 1);
}

TEST(TextWidth, what_is_cut_fits_and_ends_in_a_sign) {
  EXPECT_EQ(cut_to_width("Quarry Pink", 7, true), "Quarry…");
  EXPECT_EQ(cut_to_width("Quarry Pink", 7, false), "Quarry.");
  EXPECT_EQ(cut_to_width("Quarry", 6, true), "Quarry");
  EXPECT_LE(text_width(cut_to_width("\u6771\u4EAC\u6771", 4, true)), 4);
}

TEST(TextWidth, ascii_keeps_letters_and_drops_accents) {
  EXPECT_EQ(to_ascii("Crème brûlée 24 °C, ±2 µm"), "Creme brulee 24 C, +-2 um");
  EXPECT_EQ(to_ascii("Cre\u0300me"), "Creme");
  EXPECT_EQ(to_ascii("\u6771"), "?");
}

TEST(TextWidth, lines_are_broken_between_words) {
  EXPECT_EQ(wrapped("one two three", 7), "one two\nthree");
  EXPECT_EQ(wrapped("one two", 6, "  "), "  one\n  two");
}

}  // namespace
}  // namespace takehold::client
