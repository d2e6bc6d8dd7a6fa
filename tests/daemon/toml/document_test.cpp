#include "daemon/toml/document.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>

#include "tests/daemon/temporary_folder.hpp"

namespace takehold::daemon {
namespace {

using sensors::to_string;
using testing::ElementsAre;
using testing::HasSubstr;
using namespace std::chrono_literals;

TomlDocument document_of(const std::string& text) {
  return parse_toml(text, "sheet.toml").value();
}

std::vector<std::string> places_of(const TomlDocument& document) {
  std::vector<std::string> places;
  for (const auto& mistake : document.mistakes())
    places.push_back(mistake.where + " " + mistake.code);
  return places;
}

// The examples of the TOML 1.0.0 text (toml.io/en/v1.0.0, sections Integer, Float, Offset
// Date-Time, Local Date; from memory).
TEST(Toml, values_of_the_published_examples_are_read) {
  const auto document = document_of(
      "int6 = 5_349_221\nhex2 = 0xdeadbeef\nflt6 = -2E-2\nflt8 = 224_617.445_991_228\n"
      "odt1 = 1979-05-27T07:32:00Z\nodt2 = 1979-05-27T00:32:00-07:00\n"
      "odt3 = 1979-05-27T00:32:00.999999-07:00\nld1 = 1979-05-27\n");
  const TomlTable root = document.root();
  EXPECT_EQ(root.need_whole("int6"), 5349221);
  EXPECT_EQ(root.need_whole("hex2"), 0xdeadbeef);
  EXPECT_DOUBLE_EQ(root.need_number("flt6"), -0.02);
  EXPECT_DOUBLE_EQ(root.need_number("flt8"), 224617.445991228);
  EXPECT_EQ(to_string(root.need_instant("odt1")), "1979-05-27T07:32:00Z");
  EXPECT_EQ(to_string(root.need_instant("odt2")), "1979-05-27T07:32:00Z");
  EXPECT_EQ(to_string(root.need_instant("odt3")), "1979-05-27T07:32:00.999Z");
  EXPECT_EQ(to_string(root.need_day("ld1")), "1979-05-27");
  EXPECT_NO_THROW(document.refuse_mistakes());
}

TEST(Toml, an_unknown_key_is_named_with_its_line_and_the_nearest_known_one) {
  const auto document = document_of("[[lot]]\nlabel = \"QP-24\"\nsedes = 30\n");
  for (const auto& lot : document.root().tables("lot")) {
    lot.need_text("label");
    lot.whole("seeds");
  }
  ASSERT_EQ(document.mistakes().size(), 1u);
  const auto mistake = document.mistakes().front();
  EXPECT_EQ(mistake.code, "unknown-key");
  EXPECT_EQ(mistake.where, "sheet.toml:3");
  EXPECT_THAT(mistake.hint, HasSubstr("seeds"));
}

TEST(Toml, a_whole_table_nobody_knows_is_one_mistake) {
  const auto document = document_of("season = \"2027\"\n[wether]\nrain = 3\nsun = 4\n");
  document.root().need_text("season");
  EXPECT_THAT(places_of(document), ElementsAre("sheet.toml:2 unknown-key"));
}

TEST(Toml, all_mistakes_are_found_in_one_reading_in_the_order_of_lines) {
  const auto document = document_of(
      "want = \"six\"\nready_on = 2027-05-15T08:00:00\nevery = \"10 s\"\nweight = 7.5\n"
      "method = \"splise\"\nextra = 1\nnothing = nan\n");
  const TomlTable root = document.root();
  root.number("nothing");
  root.choice("method", {"splice", "cleft"});
  root.number("weight", 0.0, 1.0);
  root.duration("every");
  root.instant("ready_on");
  root.whole("want");
  root.need_text("season");
  EXPECT_THAT(places_of(document),
              ElementsAre("sheet.toml:1 wrong-type", "sheet.toml:1 missing-key",
                          "sheet.toml:2 local-time", "sheet.toml:3 bad-duration",
                          "sheet.toml:4 out-of-range", "sheet.toml:5 unknown-value",
                          "sheet.toml:6 unknown-key", "sheet.toml:7 out-of-range"));
  try {
    document.refuse_mistakes();
    FAIL() << "not refused";
  } catch (const sensors::Refused& refused) {
    EXPECT_EQ(refused.problem().code, "wrong-type");
    EXPECT_EQ(refused.problem().where, "sheet.toml:1");
    EXPECT_THAT(refused.problem().detail, HasSubstr("did you mean splice?"));
    EXPECT_THAT(refused.problem().detail, HasSubstr("names no one moment"));
  }
}

TEST(Toml, what_is_no_toml_is_refused_with_its_line) {
  for (const std::string text :
       {"a = 1\nb = \n", "a = 1\nb = 2027-02-30\n", "a = 1\na = 2\n", "a = 1\n[b\n",
        "a = 1\nb = \"\xff\"", "a = 1\nb = \"\xc3\"\n", "a = 1\nb = \"\xe2\x82\"\n"}) {
    const auto result = parse_toml(text, "sheet.toml");
    ASSERT_TRUE(result.has_error()) << text;
    EXPECT_EQ(result.error().code, "bad-toml");
    EXPECT_EQ(result.error().where, "sheet.toml:2") << text;
  }
}

TEST(Toml, a_date_is_no_instant_and_an_instant_no_date) {
  const auto document = document_of("on = 2027-04-12\nat = 2027-04-12T08:00:00Z\n");
  EXPECT_FALSE(document.root().instant("on"));
  EXPECT_FALSE(document.root().day("at"));
  EXPECT_EQ(document.mistakes().size(), 2u);
}

TEST(Toml, lists_in_lists_and_a_table_or_a_list_of_tables) {
  const auto document = document_of(
      "away = [[2027-04-01, 2027-04-04]]\ntested = [{sown = 20}, {sown = 30}]\nbad = [1, \"x\"]\n");
  const TomlTable root = document.root();
  const auto away = root.list("away");
  ASSERT_TRUE(away);
  EXPECT_EQ(to_string(*away->at(0).items().at(1).day()), "2027-04-04");
  EXPECT_TRUE(root.value("tested")->is_list());
  std::int64_t sown = 0;
  for (const auto& test : root.tables("tested")) sown = sown * 100 + test.need_whole("sown");
  EXPECT_EQ(sown, 2030);
  EXPECT_THAT(*root.numbers("bad"), ElementsAre(1.0));
  EXPECT_THAT(places_of(document), ElementsAre("sheet.toml:3 wrong-type"));
}

TEST(Toml, a_readers_own_mistake_carries_the_line_of_its_key) {
  const auto document = document_of("a = 1\n[b]\nc = 2\n");
  document.root().whole("a");
  const auto b = document.root().table("b");
  b->whole("c");
  b->refuse("c", {"odd", "c is odd", "", "", ""});
  b->refuse("d", {"none", "d should be there", "", "", ""});
  EXPECT_THAT(places_of(document), ElementsAre("sheet.toml:2 none", "sheet.toml:3 odd"));
}

TEST(Toml, a_file_is_loaded_by_name_and_refused_when_it_is_not_there) {
  TemporaryFolder folder;
  const auto file = folder / "sheet.toml";
  EXPECT_EQ(load_toml(file).error().code, "no-file");
  EXPECT_EQ(load_toml(folder.path()).error().code, "no-file");
  std::ofstream(file) << "a = \n";
  EXPECT_EQ(load_toml(file).error().where, file.string() + ":1");
}

}  // namespace
}  // namespace takehold::daemon
