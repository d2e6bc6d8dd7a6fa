#include "daemon/toml/duration.hpp"

#include <gtest/gtest.h>

#include "daemon/toml/nearest.hpp"

namespace takehold::daemon {
namespace {

using namespace std::chrono_literals;

TEST(Duration, each_unit_is_read_and_written_back) {
  EXPECT_EQ(parse_duration("250ms").value(), 250ms);
  EXPECT_EQ(parse_duration("10s").value(), 10s);
  EXPECT_EQ(parse_duration("30min").value(), 30min);
  EXPECT_EQ(parse_duration("2h").value(), 2h);
  EXPECT_EQ(parse_duration("400d").value(), 9600h);
  for (const char* text : {"250ms", "10s", "30min", "2h", "400d", "90s", "0s"}) {
    EXPECT_EQ(duration_text(parse_duration(text).value()), text);
  }
}

TEST(Duration, anything_else_is_refused) {
  for (const char* text : {"", "10", "s", "10 s", " 10s", "10s ", "-1s", "1.5h", "10m", "10S",
                           "1h30min", "9999999999999999999d", "100000000000d", "+5s", "0x10s"}) {
    EXPECT_TRUE(parse_duration(text).has_error()) << text;
  }
}

// Damerau 1964 and Levenshtein 1966 name the four slips; kitten and sitting is the usual example
// (from memory).
TEST(Nearest, counts_slips_of_the_fingers) {
  EXPECT_EQ(typing_distance("kitten", "sitting"), 3u);
  EXPECT_EQ(typing_distance("sede", "seed"), 1u);
  EXPECT_EQ(typing_distance("", "abc"), 3u);
  EXPECT_EQ(typing_distance("abc", "abc"), 0u);
}

TEST(Nearest, offers_only_a_name_that_is_near) {
  EXPECT_EQ(nearest_name("sedes", {"label", "seeds", "year"}), "seeds");
  EXPECT_EQ(nearest_name("colour", {"label", "seeds", "year"}), "");
  EXPECT_EQ(nearest_name("x", {}), "");
}

}  // namespace
}  // namespace takehold::daemon
