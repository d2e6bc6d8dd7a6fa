#include "client/terminal/screen_line.hpp"

#include <gtest/gtest.h>

#include "client/terminal/text_width.hpp"

namespace takehold::client {
namespace {

TEST(ScreenLine, what_fits_keeps_its_blanks_and_its_ink) {
  const std::vector<ScreenLine> lines{{"temperature     24.1 °C", Ink::good}, {}};
  const auto fitted = broken_to_width(lines, 23);
  ASSERT_EQ(fitted.size(), 2U);
  EXPECT_EQ(fitted[0].text, lines[0].text);
  EXPECT_EQ(fitted[0].ink, Ink::good);
  EXPECT_EQ(fitted[1].text, "");
}

TEST(ScreenLine, what_is_too_wide_goes_on_below_in_the_same_ink) {
  const std::vector<ScreenLine> lines{
      {"24.1 °C, 80 %; WRONG for G1; G1 leaves closed in 2 d", Ink::bad}};
  for (const int columns : {12, 20, 40}) {
    std::string joined;
    for (const auto& line : broken_to_width(lines, columns)) {
      EXPECT_LE(text_width(line.text), columns);
      EXPECT_EQ(line.ink, Ink::bad);
      EXPECT_EQ(line.text.starts_with("  "), !joined.empty());
      joined += (joined.empty() ? "" : " ") + line.text.substr(joined.empty() ? 0 : 2);
    }
    EXPECT_EQ(joined, lines[0].text);
  }
}

TEST(ScreenLine, a_word_wider_than_the_place_is_not_lost) {
  const std::vector<ScreenLine> lines{{"a /dev/serial/by-id/usb-thing b"}};
  const auto fitted = broken_to_width(lines, 10);
  ASSERT_EQ(fitted.size(), 3U);
  EXPECT_EQ(fitted[1].text, "  /dev/serial/by-id/usb-thing");
}

}  // namespace
}  // namespace takehold::client
