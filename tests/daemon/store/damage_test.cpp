// Files as accidents leave them: cut short, overwritten, with a full disk in the middle of a write.
#include <SQLiteCpp/SQLiteCpp.h>
#include <gtest/gtest.h>

#include <fstream>

#include "daemon/store/transaction.hpp"
#include "sensors/quantity/problem.hpp"
#include "tests/daemon/store/shelf.hpp"
#include "tests/daemon/temporary_folder.hpp"

namespace takehold::daemon {
namespace {

std::string refusal_code(const std::filesystem::path& path) {
  try {
    Store::open(path, shelf_options(1));
  } catch (const sensors::Refused& refused) {
    return refused.problem().code;
  }
  return "opened";
}

void fill(const std::filesystem::path& file) {
  Store store = Store::open(file, shelf_options(1));
  Transaction all(store);
  for (int i = 0; i < 2000; ++i) {
    store.database().exec("INSERT INTO jar(seeds) VALUES (" + std::to_string(i) + ")");
  }
  all.commit();
}

TEST(Damage, a_file_cut_short_is_refused_and_left_as_it_is) {
  for (const std::uintmax_t bytes : {1u, 50u, 100u, 4000u, 4096u, 9000u}) {
    TemporaryFolder folder;
    const auto file = folder / "shelf.db";
    fill(file);
    ASSERT_GT(std::filesystem::file_size(file), 12000u);
    std::filesystem::resize_file(file, bytes);
    EXPECT_EQ(refusal_code(file), "damaged-file") << bytes;
    EXPECT_EQ(std::filesystem::file_size(file), bytes);
  }
}

TEST(Damage, text_is_no_database) {
  TemporaryFolder folder;
  const auto file = folder / "shelf.db";
  std::ofstream(file) << "season = \"2027\"\n";
  EXPECT_EQ(refusal_code(file), "damaged-file");
}

TEST(Damage, a_folder_is_no_database) {
  TemporaryFolder folder;
  EXPECT_EQ(refusal_code(folder.path()), "cannot-open");
}

TEST(Transaction, without_commit_nothing_stays) {
  TemporaryFolder folder;
  Store store = Store::open(folder / "shelf.db", shelf_options(1));
  {
    Transaction all(store);
    store.database().exec("INSERT INTO jar VALUES (1, 30)");
  }
  EXPECT_EQ(store.database().execAndGet("SELECT count(*) FROM jar").getInt(), 0);
}

TEST(Transaction, a_rollback_by_hand_is_the_only_one) {
  TemporaryFolder folder;
  Store store = Store::open(folder / "shelf.db", shelf_options(1));
  {
    Transaction first(store);
    first.rollback();
    // Were the destructor of `first` to roll back again, it would take this work with it.
    store.database().exec("BEGIN; INSERT INTO jar VALUES (1, 30)");
  }
  store.database().exec("COMMIT");
  EXPECT_EQ(store.database().execAndGet("SELECT count(*) FROM jar").getInt(), 1);
}

TEST(Transaction, a_full_disk_ends_it_and_the_store_goes_on) {
  TemporaryFolder folder;
  Store store = Store::open(folder / "shelf.db", shelf_options(1));
  const int pages = store.database().execAndGet("PRAGMA page_count").getInt();
  store.database().exec("PRAGMA max_page_count=" + std::to_string(pages + 1));
  {
    Transaction all(store);
    const auto fill_up = [&] {
      for (;;) store.database().exec("INSERT INTO jar(seeds) VALUES (1)");
    };
    EXPECT_THROW(fill_up(), SQLite::Exception);
  }
  EXPECT_EQ(store.database().execAndGet("SELECT count(*) FROM jar").getInt(), 0);
  Transaction again(store);
  store.database().exec("INSERT INTO jar VALUES (1, 30)");
  again.commit();
  EXPECT_EQ(store.database().execAndGet("SELECT count(*) FROM jar").getInt(), 1);
}

}  // namespace
}  // namespace takehold::daemon
