// All or nothing, for one Store.
#pragma once

#include <string>

#include "daemon/store/store.hpp"

namespace takehold::daemon {

/// Takes the write lock at once (BEGIN IMMEDIATE), so that what was read inside it is still true
/// when it is written. Not committed at the end of its life: rolled back. Do not nest.
///
/// Once the transaction is over, by commit, by rollback or because SQLite ended it after a full
/// disk, it is over: the destructor does not roll back a second time.
class Transaction {
 public:
  /// Throws Refused "busy" if another process holds the lock longer than the busy timeout.
  explicit Transaction(Store& store);
  ~Transaction();
  Transaction(const Transaction&) = delete;
  Transaction& operator=(const Transaction&) = delete;

  /// On return the work is on the disk. If it throws, nothing of it is.
  void commit();
  void rollback();

 private:
  friend class Store;
  Transaction(SQLite::Database& database, const std::string& about);

  SQLite::Database& database_;
  bool open_ = true;
};

}  // namespace takehold::daemon
