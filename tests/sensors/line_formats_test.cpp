// Lines of text in the three formats, as probes write them and as noise spoils them.
#include <gtest/gtest.h>

#include "sensors/codec/line_decoder.hpp"
#include "sensors/codec/line_splitter.hpp"

namespace takehold::sensors {
namespace {

const char* const kPattern = "T=(?<temperature>[-0-9.]+) H=(?<humidity>[0-9.]+)";

LineDecoder decoder(const TextFormat& format) {
  return LineDecoder::make(format).value();
}

std::string code_of(const Result<Decoded>& decoded) {
  return decoded ? "good" : decoded.error().code;
}

void expect_values(const Result<Decoded>& decoded, double degc, double pct) {
  ASSERT_TRUE(decoded.has_value()) << decoded.error().sentence();
  ASSERT_TRUE(decoded->temperature && decoded->humidity);
  EXPECT_NEAR(decoded->temperature->degc(), degc, 1e-9);
  EXPECT_NEAR(decoded->humidity->pct(), pct, 1e-9);
}

TEST(TextPattern, named_groups_are_taken) {
  const auto lines = decoder(PatternText{kPattern});
  expect_values(lines.decode("T=23.41 H=95.2"), 23.41, 95.2);
  expect_values(lines.decode("#17 T=-5.0 H=99.9 ok"), -5.0, 99.9);
}

TEST(TextPattern, noise_is_a_problem_and_never_a_value) {
  const auto lines = decoder(PatternText{kPattern});
  EXPECT_EQ(code_of(lines.decode("")), "no-match");
  EXPECT_EQ(code_of(lines.decode("H=95.2")), "no-match");
  EXPECT_EQ(code_of(lines.decode("T=2.3.41 H=95.2")), "bad-number");
  EXPECT_EQ(code_of(lines.decode("T=-- H=95.2")), "bad-number");
  EXPECT_EQ(code_of(lines.decode(std::string_view("T=\0\xff H=", 7))), "no-match");
}

TEST(TextPattern, a_group_without_part_is_a_missing_value) {
  const auto lines = decoder(PatternText{"T=(?<temperature>[-0-9.]+)( H=(?<humidity>[0-9.]+))?"});
  const auto decoded = lines.decode("T=20.0").value();
  EXPECT_TRUE(decoded.temperature.has_value());
  EXPECT_FALSE(decoded.humidity.has_value());
}

TEST(TextPattern, units_in_the_group_are_understood) {
  const auto lines = decoder(PatternText{"(?<temperature>[^ ]+) (?<humidity>[^ ]+)"});
  expect_values(lines.decode("75.2F 95%"), 24.0, 95.0);
  expect_values(lines.decode("24,0\u00b0C 95,5%RH"), 24.0, 95.5);
  EXPECT_EQ(code_of(lines.decode("297K 95%")), "bad-unit");
  EXPECT_EQ(code_of(lines.decode("nan 95%")), "bad-number");
  EXPECT_EQ(code_of(lines.decode("1e999 95%")), "bad-number");
}

TEST(TextPattern, a_line_of_256_bytes_is_read_and_a_longer_one_is_not) {
  const auto lines = decoder(PatternText{kPattern});
  const std::string values = "T=23.41 H=95.2";
  const std::string padding(256 - values.size(), ' ');
  expect_values(lines.decode(padding + values), 23.41, 95.2);
  EXPECT_EQ(code_of(lines.decode(" " + padding + values)), "too-long");
}

TEST(TextPattern, a_pattern_that_would_never_end_is_given_up) {
  const auto lines = decoder(PatternText{"^(?<temperature>(([0-9]+)*)+)x$"});
  EXPECT_EQ(code_of(lines.decode(std::string(250, '1'))), "pattern-too-slow");
}

TEST(TextPattern, no_pattern_of_ill_will_hangs_on_any_line) {
  // Nested repeats, look-around, back references, recursion and counted loops: each is exponential
  // or endless for an engine without bounds (2^250 ways to part 250 letters), so that an answer at
  // all is the proof.
  const char* const kPatterns[] = {"(?<temperature>(a|a?)+)b",
                                   "(?=(a+)+b)(?<temperature>.)",
                                   "(?<temperature>a*)*\\1b",

                                   "(?<temperature>a(?R)?)*x",
                                   "(?<temperature>((a?){50}){50})b",
                                   "(?<temperature>(a{0,200}){0,200})b",
                                   "(?<temperature>(((((a*)*)*)*)*)*)b",
                                   "(?<temperature>(a|b|ab)*)c",
                                   "(?<temperature>.*.*.*.*.*.*.*.*=.*)x"};
  for (const char* const pattern : kPatterns) {
    const auto code = code_of(decoder(PatternText{pattern}).decode(std::string(250, 'a')));
    EXPECT_TRUE(code == "pattern-too-slow" || code == "no-match") << pattern << ": " << code;
  }
  // Without end even before a line is seen: refused when it is set.
  EXPECT_EQ(LineDecoder::make(PatternText{"(?<temperature>(?R)?)a"}).error().code, "bad-pattern");
  EXPECT_EQ(LineDecoder::make(PatternText{std::string(5000, '(')}).error().code, "bad-pattern");
}

TEST(TextPattern, extra_values_have_groups_of_their_own) {
  const auto lines =
      decoder(PatternText{"L=(?<leaf_temperature>\\S+) C=(?<co2>[0-9]+( ?ppm)?) Q=(?<light>\\S+)"});
  const auto decoded = lines.decode("L=23.1C C=812 ppm Q=40").value();
  EXPECT_FALSE(decoded.temperature || decoded.humidity);
  EXPECT_NEAR(decoded.extras.leaf_temperature->degc(), 23.1, 1e-9);
  EXPECT_NEAR(decoded.extras.co2->ppm(), 812, 1e-9);
  EXPECT_NEAR(decoded.extras.light->umol(), 40, 1e-9);
}

TEST(TextPattern, wrong_patterns_are_refused_when_they_are_set) {
  EXPECT_EQ(LineDecoder::make(PatternText{"T=("}).error().code, "bad-pattern");
  EXPECT_EQ(LineDecoder::make(PatternText{"T=([0-9]+)"}).error().code, "no-groups");
}

TEST(KeyValue, pairs_in_any_order_and_dress) {
  const auto lines = decoder(KeyValueMap{});
  expect_values(lines.decode("temperature=23.4 humidity=95.1"), 23.4, 95.1);
  expect_values(lines.decode("id=7;humidity=95.1%;temperature=23.4C"), 23.4, 95.1);
  expect_values(lines.decode("temperature=23,4,humidity=95,1,bat=ok"), 23.4, 95.1);
}

TEST(KeyValue, other_keys_and_one_value_alone) {
  const auto lines = decoder(KeyValueMap{"T", std::nullopt});
  const auto decoded = lines.decode("T=19.5 RH=88").value();
  EXPECT_NEAR(decoded.temperature->degc(), 19.5, 1e-9);
  EXPECT_FALSE(decoded.humidity.has_value());
  EXPECT_EQ(code_of(lines.decode("TT=19.5 humidity=88")), "no-values");
  EXPECT_EQ(code_of(lines.decode("T=")), "bad-number");
  EXPECT_EQ(LineDecoder::make(KeyValueMap{std::nullopt, std::nullopt}).error().code, "no-keys");
}

TEST(JsonLines, each_line_is_a_document) {
  const auto lines = decoder(JsonMap{"/t", "/h"});
  expect_values(lines.decode(R"({"t": 23.4, "h": 95.1, "more": [1, 2]})"), 23.4, 95.1);
  EXPECT_EQ(code_of(lines.decode(R"({"t": 23.4, "h": )")), "bad-json");
  EXPECT_EQ(code_of(lines.decode(std::string(5000, '['))), "too-long");
}

TEST(LineSplitter, lines_come_whole_from_any_pieces) {
  const std::string text = "first\r\n\nsecond\rthird\nrest";
  for (std::size_t piece = 1; piece <= text.size(); ++piece) {
    LineSplitter splitter(kMaxTextLine);
    std::vector<std::string> lines;
    for (std::size_t at = 0; at < text.size(); at += piece) {
      splitter.feed(std::string_view(text).substr(at, piece));
      while (const auto line = splitter.next()) lines.push_back(line->value());
    }
    EXPECT_EQ(lines, (std::vector<std::string>{"first", "second", "third"})) << piece;
  }
}

TEST(LineSplitter, an_overlong_line_is_told_once_and_the_next_is_whole) {
  for (const std::size_t piece : {std::size_t(1), std::size_t(7), std::size_t(4096)}) {
    LineSplitter splitter(10);
    const std::string text = std::string(35, 'x') + "\ngood\n";
    std::vector<std::string> heard;
    for (std::size_t at = 0; at < text.size(); at += piece) {
      splitter.feed(std::string_view(text).substr(at, piece));
      while (const auto line = splitter.next()) {
        heard.push_back(line->has_value() ? line->value() : line->error().code);
      }
    }
    EXPECT_EQ(heard, (std::vector<std::string>{"too-long", "good"})) << piece;
  }
}

TEST(LineSplitter, a_lost_wire_leaves_no_half_line) {
  LineSplitter splitter(10);
  splitter.feed("T=2");
  splitter.reset();
  splitter.feed("3.4\n");
  EXPECT_EQ(splitter.next()->value(), "3.4");
}

}  // namespace
}  // namespace takehold::sensors
