#include "client/season/names.hpp"

#include <gtest/gtest.h>

#include <vector>

#include "client/season/unicode.hpp"

namespace takehold::client {
namespace {

std::string code(const sensors::Result<std::string>& result) {
  return result ? "" : result.error().code;
}

TEST(Names, are_trimmed_and_kept_in_any_alphabet) {
  EXPECT_EQ(checked_name("  Quarry Pink\t").value(), "Quarry Pink");
  EXPECT_EQ(checked_name("Größe Süß").value(), "Größe Süß");
  EXPECT_EQ(checked_name("Сердце").value(), "Сердце");
}

TEST(Names, with_stroke_control_character_or_nothing_in_them_are_refused) {
  for (const char* name : {"", "   ", "A/B", "A\nB",
                           "A\x7F"
                           "B",
                           "A\xC2\x85"
                           "B"})
    EXPECT_EQ(code(checked_name(name)), "bad-name") << name;
  EXPECT_EQ(code(checked_name(std::string(121, 'a'))), "bad-name");
}

// Byte sequences of RFC 3629, section 3 and 10: overlong, surrogate, too high, cut short.
TEST(Names, that_are_not_utf8_are_refused) {
  for (const char* name : {"\xC0\x80", "\xED\xA0\x80", "\xF4\x90\x80\x80", "\xE2\x82", "\x80"})
    EXPECT_EQ(code(checked_name(name)), "bad-name");
  EXPECT_TRUE(checked_name("\xF4\x8F\xBF\xBF").has_value());
}

// The two spellings of Unicode Standard Annex 15, figure 3: composed is NFC, the other is not.
TEST(Names, with_a_loose_accent_are_refused_and_with_a_composed_one_are_not) {
  EXPECT_TRUE(checked_name("caf\xC3\xA9").has_value());
  EXPECT_EQ(code(checked_name("cafe\xCC\x81")), "bad-name");
}

TEST(Labels, are_up_to_32_characters_that_may_stand_in_a_url) {
  EXPECT_TRUE(checked_label("QP-24_a.b").has_value());
  EXPECT_TRUE(checked_label(std::string(32, 'x')).has_value());
  for (const char* label : {"", "a b", "a/b", "é", "a%20"})
    EXPECT_EQ(code(checked_label(label)), "bad-label") << label;
  EXPECT_EQ(code(checked_label(std::string(33, 'x'))), "bad-label");
}

TEST(CutNames, mean_the_one_name_that_begins_so_in_any_case) {
  const std::vector<std::string> names{"Quarry Pink", "Quartz", "Ironfoot", "Écume"};
  EXPECT_EQ(by_beginning("iron", names, "variety").value(), "Ironfoot");
  EXPECT_EQ(by_beginning("QUARR", names, "variety").value(), "Quarry Pink");
  EXPECT_EQ(by_beginning("éc", names, "variety").value(), "Écume");
}

TEST(CutNames, that_could_be_several_list_the_candidates) {
  const std::vector<std::string> names{"Quarry Pink", "Quartz", "Ironfoot"};
  const auto result = by_beginning("qua", names, "variety");
  ASSERT_FALSE(result.has_value());
  EXPECT_EQ(result.error().code, "ambiguous");
  EXPECT_EQ(result.error().detail, "Quarry Pink, Quartz");
}

TEST(CutNames, a_whole_name_wins_over_longer_ones) {
  const std::vector<std::string> names{"Plum Red", "Plum"};
  EXPECT_EQ(by_beginning("plum", names, "variety").value(), "Plum");
}

TEST(CutNames, that_begin_nothing_are_not_there) {
  const std::vector<std::string> names{"Plum"};
  EXPECT_EQ(code(by_beginning("pear", names, "variety")), "not-there");
  EXPECT_EQ(code(by_beginning("", names, "variety")), "not-there");
}

TEST(Pairings, are_split_at_their_one_stroke) {
  const auto pair = split_pairing("Quarry / Iron");
  ASSERT_TRUE(pair.has_value());
  EXPECT_EQ(pair->scion, "Quarry");
  EXPECT_EQ(pair->rootstock, "Iron");
  for (const char* no : {"P3", "a/b/c", "/b", "a/"}) EXPECT_FALSE(split_pairing(no)) << no;
}

}  // namespace
}  // namespace takehold::client
