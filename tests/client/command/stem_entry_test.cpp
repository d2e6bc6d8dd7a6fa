#include "client/command/stem_entry.hpp"

#include <gmock/gmock.h>

namespace takehold::client {
namespace {

using testing::HasSubstr;

class Entry : public testing::Test {
 protected:
  static StemEntry of(int seeds, std::optional<int> standing, Units units = Units::metric) {
    Sowing sowing;
    sowing.id = "S1";
    sowing.seeds = seeds;
    return StemEntry(sowing, standing, units);
  }
  static std::string text(const StemEntry& entry) {
    std::string all;
    for (const Stem& stem : entry.stems())
      all += std::to_string(stem.number) + ":" + std::to_string(stem.diameter.um()) + " ";
    return all;
  }
};

TEST_F(Entry, goes_on_by_itself_and_ends_with_an_empty_line) {
  auto entry = of(8, 3);
  EXPECT_EQ(entry.prompt(), "S1-1: ");
  EXPECT_EQ(entry.take("2.0"), "");
  EXPECT_EQ(entry.take(" 2,15mm "), "");
  EXPECT_EQ(entry.take("-"), "");
  EXPECT_EQ(entry.prompt(), "S1-4: ");
  EXPECT_EQ(entry.take("2.1 7=1.9"), "");
  EXPECT_THAT(entry.prompt(), HasSubstr("S1-8 (all that stand are measured)"));
  EXPECT_EQ(text(entry), "1:2000 2:2150 4:2100 7:1900 ");
  EXPECT_FALSE(entry.has_ended());
  entry.take("");
  EXPECT_TRUE(entry.has_ended());
  EXPECT_FALSE(entry.wants_out());
}

TEST_F(Entry, a_lost_point_is_proposed_and_enter_takes_it) {
  auto entry = of(8, 8);
  EXPECT_THAT(entry.take("23"), HasSubstr("Enter takes 2.3 mm"));
  EXPECT_TRUE(entry.stems().empty());
  EXPECT_EQ(entry.take(""), "");
  EXPECT_THAT(entry.take("215"), HasSubstr("2.15 mm"));
  EXPECT_EQ(entry.take("2.2"), "");  // typed again: the proposal is gone
  EXPECT_EQ(text(entry), "1:2300 2:2200 ");
  EXPECT_THAT(entry.take("23"), HasSubstr("Enter takes"));
  EXPECT_EQ(entry.take("u"), "not taken; type it again");
  EXPECT_FALSE(entry.has_ended());
  EXPECT_EQ(text(entry), "1:2300 2:2200 ");
}

TEST_F(Entry, a_stem_far_from_the_others_is_asked_about_and_may_be_true) {
  auto entry = of(8, 8);
  entry.take("2.0 2.1 2.2");
  EXPECT_EQ(entry.take("3.36"), "") << "1.6 times the middle one is not yet far";
  EXPECT_THAT(entry.take("4.4"), HasSubstr("far from the others"));
  EXPECT_EQ(entry.stems().size(), 4U);
  entry.take("");
  EXPECT_EQ(entry.stems().size(), 5U);
  EXPECT_THAT(entry.take("1.2"), HasSubstr("far from the others"));
}

TEST_F(Entry, u_takes_back_the_last_and_its_number_is_asked_again) {
  auto entry = of(8, 8);
  EXPECT_THAT(entry.take("u"), HasSubstr("nothing to take back"));
  entry.take("2.0 5=2.1");
  EXPECT_EQ(entry.take("u"), "S1-5 taken back, it was 2.1 mm");
  EXPECT_EQ(entry.prompt(), "S1-5: ");
  entry.take("u");
  EXPECT_EQ(entry.prompt(), "S1-1: ");
}

TEST_F(Entry, what_cannot_be_is_said_and_not_taken) {
  auto entry = of(3, 3);
  for (const char* bad : {"abc", "0", "-2", "2.0.1", "4=2.0", "0=2.0", "99999"}) {
    EXPECT_NE(entry.take(bad), "") << bad;
    EXPECT_TRUE(entry.stems().empty()) << bad;
  }
  entry.take("2=2.0");
  EXPECT_THAT(entry.take("2=2.1"), HasSubstr("measured already"));
  EXPECT_THAT(entry.take("2.0 2.1"), HasSubstr("3 seeds were sown"));
  entry.take("q");
  EXPECT_TRUE(entry.wants_out());
  EXPECT_EQ(text(entry), "2:2000 3:2000 ");
}

TEST_F(Entry, bare_numbers_are_in_the_growers_units) {
  auto entry = of(3, 3, Units::us);
  entry.take("0.08 2.0mm");
  EXPECT_EQ(text(entry), "1:2032 2:2000 ");  // an inch is 25.4 mm by definition
}

}  // namespace
}  // namespace takehold::client
