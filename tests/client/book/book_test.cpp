#include "client/book/book.hpp"

#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Statement.h>

#include <fstream>
#include <set>

#include "client/book/columns.hpp"
#include "tests/client/book/book_fixture.hpp"

namespace takehold::client {
namespace {

// Judged by SQLite itself, not by our own reading of the file.
TEST_F(BookTest, the_file_is_marked_as_ours_and_strict_and_keeps_a_rollback_journal) {
  { open(); }
  SQLite::Database file(path_.string(), SQLite::OPEN_READONLY);
  EXPECT_EQ(file.execAndGet("PRAGMA user_version").getInt(), 5);
  EXPECT_EQ(file.execAndGet("PRAGMA application_id").getInt(), 0x54484b42);
  EXPECT_EQ(file.execAndGet("PRAGMA journal_mode").getString(), "delete");
  EXPECT_EQ(file.execAndGet("SELECT count(*) FROM pragma_table_list"
                            " WHERE schema = 'main' AND type = 'table' AND NOT strict"
                            " AND name NOT LIKE 'sqlite_%'")
                .getInt(),
            0);
}

TEST_F(BookTest, every_noun_has_a_table_with_just_the_columns_of_its_fields) {
  { open(); }
  SQLite::Database file(path_.string(), SQLite::OPEN_READONLY);
  for (const Kind kind : kAllKinds) {
    std::set<std::string> expected{"row", "key", "command", "gone"};
    for (const FieldColumn& column : columns_of(kind))
      expected.insert(std::string(column.field.name));
    std::set<std::string> found;
    SQLite::Statement statement(file, "SELECT name FROM pragma_table_info(?)");
    statement.bind(1, std::string(kind_name(kind)));
    while (statement.executeStep()) found.insert(statement.getColumn(0).getString());
    EXPECT_EQ(found, expected) << kind_name(kind);
  }
}

TEST_F(BookTest, a_book_keeps_the_zone_and_name_it_was_made_with) {
  const std::string uuid = open().uuid();
  const Book again = Book::open(path_, kNow, {.time_zone = "Asia/Tokyo"});
  EXPECT_EQ(again.time_zone().name(), "Europe/Lisbon");
  EXPECT_EQ(again.uuid(), uuid);
  EXPECT_EQ(uuid.size(), 36u);
  EXPECT_EQ(uuid[14], '4');
}

TEST_F(BookTest, what_was_recorded_is_there_for_the_next_process) {
  {
    Book book = open();
    add_seed(book);
    EXPECT_EQ(sow(book, 12), "S1");
    EXPECT_EQ(graft(book, 5), "G1");
  }
  Book book = open();
  const auto sowing = book.find<Sowing>("S1");
  ASSERT_TRUE(sowing.has_value());
  EXPECT_EQ(sowing->seeds, 12);
  EXPECT_EQ(sowing->at, kNow);
  ASSERT_EQ(book.all<Batch>().size(), 1u);
  EXPECT_EQ(book.all<Batch>().front().count(), 5);
  EXPECT_EQ(book.all<Variety>().front().role, Role::scion);
}

TEST_F(BookTest, hours_of_a_bench_are_kept_and_the_newer_mean_counts) {
  Book book = open();
  book.keep_hours("warm bench",
                  {{500000, sensors::Celsius::degc(21)}, {500001, sensors::Celsius::degc(22)}});
  book.keep_hours("warm bench", {{500001, sensors::Celsius::degc(23)}});
  const BenchHours hours = open().hours_of("warm bench");
  ASSERT_EQ(hours.size(), 2u);
  EXPECT_EQ(hours.at(500001), sensors::Celsius::degc(23));
  EXPECT_TRUE(book.hours_of("cold frame").empty());
}

TEST_F(BookTest, an_edit_is_a_new_version_and_the_old_one_stays) {
  Book book = open();
  add_seed(book);
  const Instant later = instant("2027-03-02T08:00:00Z");
  book.record("lot edit", later, [](Recorder& r) {
    Lot lot = r.book().find<Lot>("QP-24").value();
    lot.price = 3.1;
    r.put(lot);
  });
  const auto versions = book.history<Lot>("QP-24");
  ASSERT_EQ(versions.size(), 2u);
  EXPECT_FALSE(versions[0].noun.price.has_value());
  EXPECT_EQ(versions[0].entered_at, kNow);
  EXPECT_EQ(versions[1].noun.price, 3.1);
  EXPECT_EQ(versions[1].entered_at, later);
}

TEST_F(BookTest, the_same_again_records_nothing) {
  Book book = open();
  add_seed(book);
  const auto again = book.record("lot edit", kNow,
                                 [](Recorder& r) { r.put(r.book().find<Lot>("QP-24").value()); });
  EXPECT_FALSE(again.has_value());
  EXPECT_EQ(book.history<Lot>("QP-24").size(), 1u);
  EXPECT_EQ(book.commands().size(), 3u);
}

TEST_F(BookTest, a_command_that_fails_half_way_leaves_nothing) {
  Book book = open();
  add_seed(book);
  EXPECT_THROW(
      book.record("sow", kNow,
                  [](Recorder& r) {
                    r.put(Sowing{
                        .id = r.next_number(Kind::sowing), .lot = "QP-24", .at = kNow, .seeds = 3});
                    throw std::runtime_error("the cat");
                  }),
      std::runtime_error);
  EXPECT_TRUE(book.all<Sowing>().empty());
  EXPECT_EQ(book.commands().size(), 3u);
  EXPECT_EQ(sow(book, 3), "S1");
}

TEST_F(BookTest, a_noun_that_names_what_is_not_there_is_refused) {
  Book book = open();
  add_seed(book);
  EXPECT_EQ(refusal([&] {
              book.record("sow", kNow, [](Recorder& r) {
                r.put(Sowing{.id = "S9", .lot = "XX-1", .at = kNow, .seeds = 3});
              });
            }),
            "not-there");
  EXPECT_EQ(refusal([&] {
              book.record("lose", kNow, [](Recorder& r) {
                r.put(Loss{.id = "R9", .subject = "G4", .at = kNow, .count = 1});
              });
            }),
            "not-there");
  EXPECT_TRUE(book.all<Loss>().empty());
}

TEST_F(BookTest, what_has_not_happened_yet_is_refused) {
  Book book = open();
  add_seed(book);
  EXPECT_EQ(refusal([&] {
              book.record("sow", kNow, [](Recorder& r) {
                r.put(Sowing{
                    .id = "S1", .lot = "QP-24", .at = kNow + std::chrono::seconds(1), .seeds = 3});
              });
            }),
            "in-future");
}

TEST_F(BookTest, what_others_name_cannot_be_dropped_but_a_lots_own_counts_go_with_it) {
  Book book = open();
  add_seed(book);
  const auto drop = [&] {
    book.record("lot drop", kNow, [](Recorder& r) { r.drop<Lot>("QP-24"); });
  };
  sow(book, 4);
  EXPECT_EQ(refusal(drop), "in-use");
  book.undo(kNow);
  EXPECT_EQ(refusal(drop), "");
  EXPECT_FALSE(book.find<Lot>("QP-24").has_value());
  EXPECT_TRUE(book.all<SeedCount>().empty());
  book.undo(kNow);
  EXPECT_EQ(book.on_hand("QP-24"), 30);
}

TEST_F(BookTest, seed_on_hand_is_the_newest_count_less_what_was_sown_since) {
  Book book = open();
  add_seed(book, 30);
  EXPECT_EQ(book.on_hand("QP-24"), 30);
  sow(book, 12);
  EXPECT_EQ(book.on_hand("QP-24"), 18);
  book.record("lot edit --seeds 20", kNow, [](Recorder& r) {  // found two more than thought
    Lot lot = r.book().find<Lot>("QP-24").value();
    lot.seeds = 20;
    r.put(lot);
  });
  EXPECT_EQ(book.on_hand("QP-24"), 20);
  sow(book, 5);
  EXPECT_EQ(book.on_hand("QP-24"), 15);
  book.undo(kNow);     // the five
  book.undo(kNow, 5);  // the recount: again 30 - 12
  EXPECT_EQ(book.on_hand("QP-24"), 18);
  EXPECT_EQ(book.on_hand("nothing"), 0);
}

TEST_F(BookTest, numbers_are_never_given_twice_even_after_an_undo) {
  Book book = open();
  add_seed(book);
  EXPECT_EQ(sow(book, 1), "S1");
  book.undo(kNow);
  EXPECT_EQ(sow(book, 1), "S2");
}

TEST_F(BookTest, a_newer_book_is_refused_and_not_a_byte_of_it_changes) {
  { open(); }
  {
    SQLite::Database file(path_.string(), SQLite::OPEN_READWRITE);
    file.exec("PRAGMA user_version = 99");
  }
  const auto bytes = [&] {
    std::ifstream file(path_, std::ios::binary);
    return std::string(std::istreambuf_iterator<char>(file), {});
  };
  const std::string before = bytes();
  EXPECT_EQ(refusal([&] { open(); }), "newer-schema");
  EXPECT_EQ(bytes(), before);
}

TEST_F(BookTest, a_book_that_must_exist_is_not_made) {
  EXPECT_EQ(refusal([&] { Book::open(path_, kNow, {.must_exist = true}); }), "no-file");
  EXPECT_FALSE(std::filesystem::exists(path_));
}

}  // namespace
}  // namespace takehold::client
