#include "daemon/store/store.hpp"

#include <SQLiteCpp/SQLiteCpp.h>
#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

#include "daemon/store/transaction.hpp"
#include "sensors/quantity/problem.hpp"
#include "tests/daemon/store/shelf.hpp"
#include "tests/daemon/temporary_folder.hpp"
#include "tests/support/running_program.hpp"

namespace takehold::daemon {
namespace {

/// What the sqlite3 shell, which shares none of our code, sees in a file.
std::string shell(const std::filesystem::path& file, const std::string& sql) {
  return testing::answer_of("sqlite3 -batch -readonly '" + file.string() + "' \"" + sql + "\"");
}

std::string bytes_of(const std::filesystem::path& file) {
  std::ostringstream text;
  text << std::ifstream(file, std::ios::binary).rdbuf();
  return text.str();
}

std::string refusal_code(const std::filesystem::path& path, const StoreOptions& options) {
  try {
    Store::open(path, options);
  } catch (const sensors::Refused& refused) {
    EXPECT_EQ(refused.problem().where, path.string());
    return refused.problem().code;
  }
  return "opened";
}

TEST(Store, what_it_writes_the_sqlite_shell_reads) {
  TemporaryFolder folder;
  const auto file = folder / "sub" / "shelf.db";
  {
    Store store = Store::open(file, shelf_options(1));
    store.database().exec("INSERT INTO jar VALUES (1, 30)");
  }
  EXPECT_EQ(shell(file,
                  "PRAGMA application_id; PRAGMA user_version; SELECT seeds FROM jar;"
                  "PRAGMA integrity_check"),
            std::to_string(kShelfId) + "\n1\n30\nok\n");
}

TEST(Store, commits_are_synced_and_references_kept) {
  TemporaryFolder folder;
  Store store = Store::open(folder / "shelf.db", shelf_options(1));
  EXPECT_EQ(store.database().execAndGet("PRAGMA synchronous").getInt(), 2);  // 2 is FULL
  EXPECT_EQ(store.database().execAndGet("PRAGMA journal_mode").getString(), "truncate");
  EXPECT_THROW(store.database().exec("INSERT INTO label VALUES (7)"), SQLite::Exception);
}

TEST(Store, a_migration_copies_the_file_first_and_keeps_the_rows) {
  for (const Journal journal : {Journal::rollback, Journal::wal}) {
    TemporaryFolder folder;
    const auto file = folder / "shelf.db";
    Store::open(file, shelf_options(1, journal)).database().exec("INSERT INTO jar VALUES (1, 30)");

    Store store = Store::open(file, shelf_options(2, journal));
    EXPECT_EQ(store.schema_version(), 2);
    EXPECT_EQ(store.database().execAndGet("SELECT year FROM jar").getInt(), 2027);
    EXPECT_EQ(store.copy_before_migration(), folder / "shelf.db.version-1");
    EXPECT_EQ(shell(store.copy_before_migration(),
                    "PRAGMA user_version; PRAGMA journal_mode; SELECT * FROM jar"),
              "1\ndelete\n1|30\n");
  }
}

TEST(Store, a_migration_that_fails_changes_nothing) {
  TemporaryFolder folder;
  const auto file = folder / "shelf.db";
  Store::open(file, shelf_options(1)).database().exec("INSERT INTO jar VALUES (1, 30)");
  const auto before = bytes_of(file);
  auto options = shelf_options(2);
  options.migrations.push_back({3, "003_bad.sql", "INSERT INTO nowhere VALUES (1);"});
  EXPECT_EQ(refusal_code(file, options), "cannot-open");
  EXPECT_EQ(bytes_of(file), before);
}

TEST(Store, a_migration_that_breaks_a_reference_is_not_kept) {
  TemporaryFolder folder;
  const auto file = folder / "shelf.db";
  Store::open(file, shelf_options(1));
  auto options = shelf_options(1);
  options.migrations.push_back({2, "002_bad.sql", "INSERT INTO label VALUES (99);"});
  EXPECT_THROW(Store::open(file, options), std::logic_error);
  EXPECT_EQ(shell(file, "PRAGMA user_version; SELECT count(*) FROM label"), "1\n0\n");
}

TEST(Store, a_newer_file_is_refused_untouched) {
  TemporaryFolder folder;
  const auto file = folder / "shelf.db";
  Store::open(file, shelf_options(2));
  const auto before = bytes_of(file);
  EXPECT_EQ(refusal_code(file, shelf_options(1)), "newer-schema");
  EXPECT_EQ(bytes_of(file), before);
}

TEST(Store, a_newer_file_with_a_write_ahead_log_is_refused_untouched_too) {
  TemporaryFolder folder;
  const auto file = folder / "shelf.db";
  const auto copy = folder / "copy.db";
  Store store = Store::open(file, shelf_options(2, Journal::wal));
  store.database().exec("INSERT INTO jar VALUES (1, 30, 2026)");
  // As a killed writer leaves it: what is in the log is not yet in the file.
  std::filesystem::copy_file(file, copy);
  std::filesystem::copy_file(folder / "shelf.db-wal", folder / "copy.db-wal");
  const auto before = bytes_of(copy);
  EXPECT_EQ(refusal_code(copy, shelf_options(1, Journal::wal)), "newer-schema");
  EXPECT_EQ(bytes_of(copy), before);
  EXPECT_EQ(Store::open(copy, shelf_options(2, Journal::wal))
                .database()
                .execAndGet("SELECT count(*) FROM jar")
                .getInt(),
            1);
}

TEST(Store, another_programs_file_is_refused_untouched) {
  TemporaryFolder folder;
  const auto file = folder / "shelf.db";
  SQLite::Database(file.string(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE)
      .exec("CREATE TABLE jar (id INTEGER)");
  const auto before = bytes_of(file);
  EXPECT_EQ(refusal_code(file, shelf_options(1)), "not-ours");
  SQLite::Database(file.string(), SQLite::OPEN_READWRITE).exec("PRAGMA application_id=5");
  EXPECT_EQ(refusal_code(file, shelf_options(1)), "not-ours");
  EXPECT_NE(before, "");
  EXPECT_EQ(bytes_of(file).size(), before.size());
}

TEST(Store, a_reader_neither_makes_nor_migrates_nor_writes) {
  TemporaryFolder folder;
  const auto file = folder / "shelf.db";
  auto reading = shelf_options(2, Journal::wal);
  reading.read_only = true;
  EXPECT_EQ(refusal_code(file, reading), "no-file");
  EXPECT_FALSE(std::filesystem::exists(file));
  Store::open(file, shelf_options(1, Journal::wal));
  EXPECT_EQ(refusal_code(file, reading), "older-schema");
  Store writer = Store::open(file, shelf_options(2, Journal::wal));
  writer.database().exec("INSERT INTO jar VALUES (1, 30, 2026)");
  Store reader = Store::open(file, reading);
  EXPECT_EQ(reader.database().execAndGet("PRAGMA wal_autocheckpoint").getInt(), 0);
  EXPECT_EQ(reader.database().execAndGet("SELECT seeds FROM jar").getInt(), 30);
  EXPECT_THROW(reader.database().exec("DELETE FROM jar"), SQLite::Exception);
}

TEST(Migration, files_are_ordered_by_number_and_gaps_are_a_mistake) {
  const auto steps = migrations_from({{"002_b.sql", "B"}, {"001_a.sql", "A"}});
  ASSERT_EQ(steps.size(), 2u);
  EXPECT_EQ(steps[0].sql, "A");
  EXPECT_THROW(migrations_from({{"001_a.sql", ""}, {"003_c.sql", ""}}), std::logic_error);
  EXPECT_THROW(migrations_from({{"first.sql", ""}}), std::logic_error);
}

}  // namespace
}  // namespace takehold::daemon
