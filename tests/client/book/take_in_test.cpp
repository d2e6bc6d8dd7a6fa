// A book's tables out and in again: nothing changes, nothing is lost, one undo.
#include <gmock/gmock.h>

#include "client/book/csv_table.hpp"
#include "sensors/codec/csv.hpp"
#include "tests/client/book/book_fixture.hpp"

namespace takehold::client {
namespace {

using testing::HasSubstr;

class TakeIn : public BookTest {
 protected:
  /// Every kind of table as text, as `export` writes it, and back.
  static std::vector<PlainNoun> through_csv(const Book& book) {
    const auto nouns = book.nouns();
    std::vector<PlainNoun> back;
    for (const Kind kind : kAllKinds)
      for (auto& noun : nouns_of_csv(kind, csv_of(kind, nouns), "t.csv"))
        back.push_back(std::move(noun));
    return back;
  }
  static std::string text_of(const Book& book) {
    std::string text;
    for (const PlainNoun& noun : book.nouns())
      text += std::string(kind_name(noun.kind)) + " " + noun.key + " " + noun.fields.dump() + "\n";
    return text;
  }
  Book another() { return Book::open(folder_ / "other.db", kNow, {.time_zone = "UTC"}); }
  static std::string refusal(const std::function<void()>& work) {
    try {
      work();
    } catch (const sensors::Refused& refused) {
      return refused.problem().code + " " + refused.problem().where;
    }
    return "taken";
  }
};

TEST_F(TakeIn, a_round_trip_into_the_same_book_changes_nothing) {
  Book book = open();
  add_seed(book);
  sow(book, 12);
  const std::string before = text_of(book);
  const auto commands = book.commands().size();
  const TakenIn taken = book.take_in(through_csv(book), "import", kNow);
  EXPECT_FALSE(taken.command);
  EXPECT_TRUE(taken.added.empty() && taken.changed.empty() && taken.missing.empty());
  EXPECT_EQ(taken.unchanged, static_cast<int>(book.nouns().size()));
  EXPECT_EQ(text_of(book), before);
  EXPECT_EQ(book.commands().size(), commands);
}

TEST_F(TakeIn, a_new_book_stands_as_the_old_one_and_one_undo_empties_it) {
  Book book = open();
  add_seed(book, 30);
  sow(book, 12);
  book.record("recount", kNow, [](Recorder& r) {
    r.put(Lot{.label = "QP-24", .variety = "Quarry Pink", .seeds = 15});
  });
  sow(book, 4);
  ASSERT_EQ(book.on_hand("QP-24"), 11);
  Book other = another();
  const TakenIn taken = other.take_in(through_csv(book), "import", kNow,
                                      sensors::TimeZone::named("Europe/Lisbon").value());
  EXPECT_EQ(text_of(other), text_of(book));
  EXPECT_EQ(other.on_hand("QP-24"), 11) << "counts and sowings keep the order they were told in";
  EXPECT_EQ(other.time_zone().name(), "Europe/Lisbon");
  EXPECT_EQ(sow(other, 1), "S3") << "numbers go on behind those taken in";
  EXPECT_EQ(refusal([&] { other.undo(kNow, taken.command); }).substr(0, 12), "stands-on-it");
  other.undo(kNow);
  other.undo(kNow, taken.command);
  EXPECT_TRUE(other.nouns().empty());
}

TEST_F(TakeIn, a_changed_row_is_a_new_version_and_a_row_left_out_stays) {
  Book book = open();
  add_seed(book);
  auto nouns = through_csv(book);
  std::erase_if(nouns, [](const PlainNoun& noun) { return noun.kind == Kind::pairing; });
  for (PlainNoun& noun : nouns)
    if (noun.key == "Ironfoot") noun.fields["fruit"] = "none";
  nouns.push_back({Kind::variety, "Late Amber", to_json(Variety{.name = "Late Amber"}), {}, {}});
  const TakenIn taken = book.take_in(nouns, "import", kNow);
  EXPECT_EQ(taken.changed, (std::vector<NounRef>{{Kind::variety, "Ironfoot"}}));
  EXPECT_EQ(taken.added, (std::vector<NounRef>{{Kind::variety, "Late Amber"}}));
  EXPECT_TRUE(taken.missing.empty()) << "no table of pairings was given";
  EXPECT_EQ(book.history<Variety>("Ironfoot").size(), 2U);
  EXPECT_TRUE(book.find<Pairing>("P1"));
}

TEST_F(TakeIn, what_names_something_that_is_not_there_takes_nothing_in) {
  Book book = open();
  add_seed(book);
  auto nouns = through_csv(book);
  std::erase_if(nouns, [](const PlainNoun& noun) { return noun.kind == Kind::variety; });
  Book other = another();
  EXPECT_EQ(refusal([&] { other.take_in(nouns, "import", kNow); }).substr(0, 9), "not-there");
  EXPECT_TRUE(other.nouns().empty());
  EXPECT_TRUE(other.commands().empty());
}

TEST_F(TakeIn, a_bad_cell_is_told_with_its_line) {
  Book book = open();
  add_seed(book);
  const std::string lots = csv_of(Kind::lot, book.nouns());
  const auto with = [&](const std::string& from, const std::string& to) {
    std::string text = lots;
    text.replace(text.find(from), from.size(), to);
    return refusal([&] { nouns_of_csv(Kind::lot, text, "lot.csv"); });
  };
  EXPECT_EQ(with(",30,", ",thirty,"), "bad-value lot.csv:2");
  EXPECT_EQ(with(",30,", ",3.5,"), "bad-value lot.csv:2");
  EXPECT_EQ(with("QP-24", "\"QP"), "bad-csv lot.csv:2");
  EXPECT_EQ(with("seeds", "sedes"), "missing-column lot.csv:1");
  EXPECT_EQ(
      refusal([&] { nouns_of_csv(Kind::lot, lots + lots.substr(lots.find('\n') + 1), "lot.csv"); }),
      "twice lot.csv:3");
  const std::string sowing = "told,id,lot,at,seeds,cells,bench,side,pairings,planned,note\r\n";
  EXPECT_EQ(refusal([&] {
              nouns_of_csv(Kind::sowing, sowing + ",S1,QP-24,2027-02-30T09:00:00Z,4,2,,,[],,\r\n",
                           "s.csv");
            }),
            "bad-instant s.csv:2");
  EXPECT_EQ(refusal([&] {
              nouns_of_csv(Kind::sowing, sowing + ",X1,QP-24,2027-02-03T09:00:00Z,4,2,,,[],,\r\n",
                           "s.csv");
            }),
            "bad-key s.csv:2");
}

TEST(DataDictionary, has_a_meaning_for_every_column_of_every_table) {
  const auto rows = sensors::parse_csv(data_dictionary(), "dictionary.csv").value();
  ASSERT_GT(rows.size(), 100U);
  for (auto row = rows.begin() + 1; row != rows.end(); ++row) {
    ASSERT_EQ(row->fields.size(), 7U);
    EXPECT_FALSE(row->fields[6].value_or("").empty())
        << "client/book/dictionary.csv says nothing of " << *row->fields[0] << "."
        << *row->fields[1];
  }
}

}  // namespace
}  // namespace takehold::client
