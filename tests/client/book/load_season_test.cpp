#include "client/book/load_season.hpp"

#include <algorithm>

#include "tests/client/book/book_fixture.hpp"

namespace takehold::client {
namespace {

const std::string kSheet = R"(
season = "2027"
ready_on = 2027-05-15
time_zone = "Asia/Tokyo"
[[variety]]
name = "Quarry Pink"
fruit = "beefsteak"
[[variety]]
name = "Ironfoot"
role = "rootstock"
[[lot]]
label = "QP-24"
variety = "Quarry Pink"
seeds = 30
tested = { sprouted = 18, sown = 20, on = 2027-01-10 }
[[pairing]]
scion = "Quarry Pink"
rootstock = "Ironfoot"
want = 6
)";

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const auto at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return text.replace(at, from.size(), to);
}

std::vector<std::string> names(const std::vector<LoadedNoun>& nouns) {
  std::vector<std::string> all;
  for (const LoadedNoun& noun : nouns) all.push_back(noun.name);
  std::sort(all.begin(), all.end());
  return all;
}

using Names = std::vector<std::string>;

class LoadSeason : public BookTest {
 protected:
  LoadReport load(Book& book, const std::string& text, MergeWinner winner = MergeWinner::nobody) {
    return load_season(book, read_sheet(text, "sheet.toml"), "season load sheet.toml", kNow,
                       winner);
  }
  static void want(Book& book, int plants) {
    book.record("pairing edit P1", kNow, [plants](Recorder& r) {
      Pairing pairing = r.book().find<Pairing>("P1").value();
      pairing.want = plants;
      r.put(pairing);
    });
  }
  static int wanted(const Book& book) { return book.find<Pairing>("P1").value().want; }
};

TEST_F(LoadSeason, first_load_adds_everything_under_one_command) {
  Book book = open();
  const auto report = load(book, kSheet);
  EXPECT_EQ(names(report.added), (Names{"Ironfoot", "QP-24", "QP-24@2027-01-10", "Quarry Pink",
                                        "Quarry Pink/Ironfoot", "season"}));
  EXPECT_EQ(book.commands().size(), 1u);
  EXPECT_EQ(book.find<Pairing>("P1").value().names(), "Quarry Pink/Ironfoot");
  EXPECT_EQ(book.on_hand("QP-24"), 30);
  EXPECT_EQ(book.all<LotTest>().front().sprouted, 18);
}

TEST_F(LoadSeason, one_undo_takes_the_whole_load_back) {
  Book book = open();
  load(book, kSheet);
  book.undo(kNow);
  EXPECT_TRUE(book.all<Variety>().empty());
  EXPECT_TRUE(book.all<Lot>().empty());
  EXPECT_TRUE(book.all<Pairing>().empty());
  EXPECT_TRUE(book.last_sheet().empty());
  EXPECT_EQ(load(book, kSheet).added.size(), 6u);
}

TEST_F(LoadSeason, a_new_book_takes_the_sheets_time_zone_and_a_used_one_keeps_its_own) {
  Book book = open();
  load(book, kSheet);
  EXPECT_EQ(book.time_zone().name(), "Asia/Tokyo");
  load(book, replaced(kSheet, "Asia/Tokyo", "Europe/Paris"));
  EXPECT_EQ(book.time_zone().name(), "Asia/Tokyo");
  EXPECT_EQ(open().time_zone().name(), "Asia/Tokyo");
}

TEST_F(LoadSeason, the_same_sheet_again_changes_nothing_and_records_nothing) {
  Book book = open();
  load(book, kSheet);
  const auto again = load(book, kSheet);
  EXPECT_FALSE(again.command.has_value());
  EXPECT_TRUE(again.added.empty());
  EXPECT_TRUE(again.changed.empty());
  EXPECT_EQ(again.unchanged.size(), 6u);
  EXPECT_EQ(book.commands().size(), 1u);
}

TEST_F(LoadSeason, what_only_the_sheet_changed_is_the_sheets) {
  Book book = open();
  load(book, kSheet);
  const auto report = load(book, replaced(kSheet, "want = 6", "want = 8"));
  ASSERT_EQ(names(report.changed), Names{"Quarry Pink/Ironfoot"});
  EXPECT_EQ(report.changed[0].fields, nlohmann::json::parse(R"({"want":{"was":6,"now":8}})"));
  EXPECT_EQ(wanted(book), 8);
}

TEST_F(LoadSeason, what_only_the_book_changed_is_the_books) {
  Book book = open();
  load(book, kSheet);
  want(book, 7);
  EXPECT_TRUE(load(book, kSheet).changed.empty());
  EXPECT_EQ(wanted(book), 7);
  const auto report = load(book, replaced(kSheet, "want = 6", "want = 6\nweight = 2"));
  EXPECT_EQ(names(report.changed), Names{"Quarry Pink/Ironfoot"});
  EXPECT_EQ(wanted(book), 7);
  EXPECT_EQ(book.find<Pairing>("P1")->weight, 2);
}

TEST_F(LoadSeason, both_changed_alike_is_no_clash_now_or_later) {
  Book book = open();
  load(book, kSheet);
  want(book, 8);
  EXPECT_TRUE(load(book, replaced(kSheet, "want = 6", "want = 8")).changed.empty());
  load(book, replaced(kSheet, "want = 6", "want = 9"));
  EXPECT_EQ(wanted(book), 9);
}

TEST_F(LoadSeason, both_changed_differently_refuses_the_whole_load_with_both_values) {
  Book book = open();
  load(book, kSheet);
  want(book, 7);
  const auto text = replaced(replaced(kSheet, "want = 6", "want = 8"), "beefsteak", "salad");
  try {
    load(book, text);
    FAIL() << "a clash was loaded";
  } catch (const sensors::Refused& e) {
    EXPECT_EQ(e.problem().code, "changed-twice");
    EXPECT_EQ(e.problem().detail, "pairing Quarry Pink/Ironfoot: want: sheet 8, book 7, before 6");
    EXPECT_TRUE(e.problem().where.starts_with("sheet.toml:"));
  }
  EXPECT_EQ(wanted(book), 7);
  EXPECT_EQ(book.find<Variety>("Quarry Pink")->fruit, "beefsteak");
}

TEST_F(LoadSeason, a_winner_settles_a_clash) {
  for (const auto& [winner, plants] : {std::pair{MergeWinner::sheet, 8}, {MergeWinner::book, 7}}) {
    std::filesystem::remove(path_);
    Book book = open();
    load(book, kSheet);
    want(book, 7);
    load(book, replaced(kSheet, "want = 6", "want = 8"), winner);
    EXPECT_EQ(wanted(book), plants);
  }
}

TEST_F(LoadSeason, nothing_missing_is_deleted_but_a_pairing_that_nothing_names) {
  Book book = open();
  load(book, kSheet);
  const std::string rest = kSheet.substr(0, kSheet.find("[[lot]]"));
  const auto report = load(book, rest);
  EXPECT_EQ(names(report.missing), (Names{"QP-24", "QP-24@2027-01-10", "Quarry Pink/Ironfoot"}));
  EXPECT_TRUE(book.find<Lot>("QP-24").has_value());
  EXPECT_TRUE(book.all<Pairing>().empty());
}

TEST_F(LoadSeason, a_missing_pairing_with_grafts_stays) {
  Book book = open();
  load(book, kSheet);
  graft(book, 3);
  const auto report = load(book, kSheet.substr(0, kSheet.find("[[pairing]]")));
  ASSERT_EQ(names(report.missing), Names{"Quarry Pink/Ironfoot"});
  EXPECT_FALSE(report.missing[0].dropped);
  EXPECT_TRUE(book.find<Pairing>("P1").has_value());
}

TEST_F(LoadSeason, a_pairing_added_by_hand_is_not_the_sheets_to_drop) {
  Book book = open();
  load(book, kSheet.substr(0, kSheet.find("[[pairing]]")));
  book.record("pairing add", kNow, [](Recorder& r) {
    r.put(Pairing{
        .id = r.next_number(Kind::pairing), .scion = "Quarry Pink", .rootstock = "Ironfoot"});
  });
  load(book, kSheet.substr(0, kSheet.find("[[pairing]]")));
  EXPECT_EQ(book.all<Pairing>().size(), 1u);
}

TEST_F(LoadSeason, what_the_grower_dropped_stays_dropped_until_the_sheet_insists) {
  Book book = open();
  load(book, kSheet);
  book.record("pairing drop P1", kNow, [](Recorder& r) { r.drop<Pairing>("P1"); });
  EXPECT_TRUE(load(book, kSheet).added.empty());
  EXPECT_EQ(refusal([&] { load(book, replaced(kSheet, "want = 6", "want = 8")); }),
            "changed-twice");
  load(book, kSheet, MergeWinner::sheet);
  ASSERT_EQ(book.all<Pairing>().size(), 1u);
  EXPECT_EQ(book.all<Pairing>().front().id, "P2");
}

TEST_F(LoadSeason, another_number_of_seeds_is_a_recount) {
  Book book = open();
  load(book, kSheet);
  sow(book, 10);
  load(book, replaced(kSheet, "fruit = \"beefsteak\"", ""));
  EXPECT_EQ(book.on_hand("QP-24"), 20);
  load(book, replaced(kSheet, "seeds = 30", "seeds = 17"));
  EXPECT_EQ(book.on_hand("QP-24"), 17);
}

TEST_F(LoadSeason, the_book_writes_the_sheet_it_was_told) {
  Book book = open();
  load(book, kSheet);
  const Sheet told = read_sheet(kSheet, "sheet.toml");
  const Sheet written = read_sheet(write_sheet(season_of(book)), "written.toml");
  EXPECT_EQ(written.season, told.season);
  EXPECT_EQ(written.varieties, told.varieties);
  EXPECT_EQ(written.lots, told.lots);
  EXPECT_EQ(written.lot_tests, told.lot_tests);
  EXPECT_EQ(written.pairings, told.pairings);
}

}  // namespace
}  // namespace takehold::client
