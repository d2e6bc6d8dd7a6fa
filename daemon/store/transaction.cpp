#include "daemon/store/transaction.hpp"

#include <SQLiteCpp/SQLiteCpp.h>
#include <sqlite3.h>

#include <cassert>

#include "daemon/store/refusal.hpp"

namespace takehold::daemon {

Transaction::Transaction(Store& store) : Transaction(store.database(), store.path().string()) {}

Transaction::Transaction(SQLite::Database& database, const std::string& about)
    : database_(database) {
  try {
    database_.exec("BEGIN IMMEDIATE");
  } catch (const SQLite::Exception& e) {
    throw refusal_of(e, about);
  }
}

Transaction::~Transaction() {
  try {
    rollback();
  } catch (const SQLite::Exception&) {
    // The connection is unusable; the next use of it reports that, and the journal undoes the rest.
  }
}

void Transaction::commit() {
  assert(open_);
  try {
    database_.exec("COMMIT");
  } catch (const SQLite::Exception&) {
    rollback();
    throw;
  }
  open_ = false;
}

void Transaction::rollback() {
  if (!open_) return;
  open_ = false;
  const bool still_there = sqlite3_get_autocommit(database_.getHandle()) == 0;
  if (still_there) database_.exec("ROLLBACK");
}

}  // namespace takehold::daemon
