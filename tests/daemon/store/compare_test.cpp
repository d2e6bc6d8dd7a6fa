#include "daemon/store/compare.hpp"

#include <SQLiteCpp/SQLiteCpp.h>
#include <gtest/gtest.h>

#include <fstream>

#include "daemon/store/copy.hpp"
#include "daemon/store/transaction.hpp"
#include "tests/daemon/store/shelf.hpp"
#include "tests/daemon/temporary_folder.hpp"

namespace takehold::daemon {
namespace {

class Compare : public testing::Test {
 protected:
  Compare() {
    Store store = Store::open(folder_ / "shelf.db", shelf_options(1));
    store.database().exec("INSERT INTO jar VALUES (1, 30), (2, 40)");
    copy_database(store.database(), folder_ / "copy.db");
  }
  Comparison after(const char* change) {
    SQLite::Database one((folder_ / "shelf.db").string(), SQLite::OPEN_READWRITE);
    SQLite::Database other((folder_ / "copy.db").string(), SQLite::OPEN_READWRITE);
    other.exec(change);
    return compare_databases(one, other);
  }
  TemporaryFolder folder_;
};

TEST_F(Compare, a_copy_is_the_same_and_its_rows_are_counted) {
  const auto found = after("SELECT 1");
  EXPECT_EQ(found.difference, "");
  EXPECT_EQ(found.rows, 2);
  EXPECT_EQ(found.tables, 2);
}

TEST_F(Compare, one_value_one_row_less_and_one_more_are_seen) {
  EXPECT_EQ(after("UPDATE jar SET seeds = 41 WHERE seeds = 40").difference, "table jar, row 2");
  EXPECT_EQ(after("DELETE FROM jar WHERE seeds = 41").difference, "table jar, row 2");
  EXPECT_EQ(after("INSERT INTO jar VALUES (2, 40), (3, 50)").difference, "table jar, row 3");
}

TEST_F(Compare, another_version_or_schema_is_seen) {
  EXPECT_EQ(after("PRAGMA user_version = 7").difference, "the version");
  EXPECT_EQ(after("PRAGMA user_version = 1; CREATE TABLE lid(x)").difference, "the schema");
}

}  // namespace
}  // namespace takehold::daemon
