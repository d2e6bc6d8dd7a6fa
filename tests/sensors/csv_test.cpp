#include "sensors/codec/csv.hpp"

#include <gtest/gtest.h>

#include <fstream>
#include <random>

#include "tests/support/running_program.hpp"

namespace takehold::sensors {
namespace {

using Fields = std::vector<CsvField>;

std::vector<Fields> fields_of(std::string_view text) {
  std::vector<Fields> all;
  for (auto& row : parse_csv(text, "t.csv").value()) all.push_back(row.fields);
  return all;
}

// The examples of RFC 4180, section 2, points 1 to 7.
TEST(Csv, the_published_examples_are_read) {
  const std::vector<Fields> two{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}};
  EXPECT_EQ(fields_of("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n"), two);
  EXPECT_EQ(fields_of("aaa,bbb,ccc\r\nzzz,yyy,xxx"), two);
  EXPECT_EQ(fields_of("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx"), two);
  EXPECT_EQ(fields_of("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx"),
            (std::vector<Fields>{{"aaa", "b\r\nbb", "ccc"}, {"zzz", "yyy", "xxx"}}));
  EXPECT_EQ(fields_of("\"aaa\",\"b\"\"bb\",\"ccc\""),
            (std::vector<Fields>{{"aaa", "b\"bb", "ccc"}}));
}

TEST(Csv, missing_is_not_empty) {
  EXPECT_EQ(
      fields_of("a,,\"\",\n\n,\n"),
      (std::vector<Fields>{{"a", std::nullopt, "", std::nullopt}, {std::nullopt, std::nullopt}}));
  EXPECT_EQ(csv_line({"a", std::nullopt, "", std::nullopt}), "a,,\"\",\r\n");
}

TEST(Csv, rows_know_their_line_and_mistakes_are_told_with_it) {
  const auto rows = parse_csv(
                        "\xEF\xBB\xBF"
                        "a\n\"b\nb\"\n\nc\n",
                        "t.csv")
                        .value();
  ASSERT_EQ(rows.size(), 3U);
  EXPECT_EQ(rows[0].fields[0], "a");
  EXPECT_EQ(rows[1].line, 2);
  EXPECT_EQ(rows[2].line, 5);
  EXPECT_EQ(parse_csv("a\nb\"c\n", "t.csv").error().where, "t.csv:2");
  EXPECT_EQ(parse_csv("a\n\"b\" c\n", "t.csv").error().where, "t.csv:2");
  EXPECT_EQ(parse_csv("a\n\"b\nc\n", "t.csv").error().where, "t.csv:2");
}

// Python's csv module as the other reader and writer: what we write it reads, and the other way.
TEST(Csv, an_independent_reader_finds_the_same_fields) {
  constexpr std::string_view kLetters = "ab,\"\n\r 0;é";
  constexpr unsigned kSeed = 4180;
  std::mt19937 random(kSeed);
  std::string text;
  std::vector<Fields> written;
  for (int row = 0; row < 200; ++row) {
    Fields fields{"x"};
    for (unsigned i = random() % 5; i > 0; --i) {
      std::string field = "_";
      for (unsigned n = random() % 8; n > 0; --n) field += kLetters[random() % 9];
      fields.emplace_back(field);
    }
    text += csv_line(fields);
    written.push_back(fields);
  }
  EXPECT_EQ(fields_of(text), written);
  takehold::testing::ScratchFolder folder;
  std::ofstream(folder.path("ours.csv"), std::ios::binary) << text;
  takehold::testing::output_of("python3 -c \"import csv, sys; rows = list(csv.reader(open('" +
                               folder.path("ours.csv") + "', newline=''))); csv.writer(open('" +
                               folder.path("theirs.csv") +
                               "', 'w', newline='')).writerows(rows)\"");
  std::ifstream theirs(folder.path("theirs.csv"), std::ios::binary);
  EXPECT_EQ(fields_of(std::string(std::istreambuf_iterator<char>(theirs), {})), written);
}

}  // namespace
}  // namespace takehold::sensors
