// Opening one of our SQLite files, safely and always in the same way.
//
// A Store is one open connection to a file that is ours: foreign keys on, synchronous FULL (if
// synced), the application id checked, the schema brought up to date by numbered migrations. It has
// no schema of its own. It owns the connection; one thread at a time may use it.
//
// Two ways to keep the journal, for one reason: SQLite before 3.51.3 can lose a commit when two
// connections write and checkpoint a write-ahead log at one instant.
//   rollback  any number of short-lived processes may write (the grower's book)
//   wal       ONE connection writes and checkpoints; all others open read_only (the chamber log)
#pragma once

#include <chrono>
#include <cstdint>
#include <filesystem>
#include <memory>
#include <vector>

#include "daemon/store/migration.hpp"

namespace SQLite {
class Database;
}

namespace takehold::daemon {

enum class Journal { rollback, wal };

struct StoreOptions {
  std::int32_t application_id = 0;    ///< of the kind of file; must not be 0
  std::vector<Migration> migrations;  ///< versions 1, 2, 3 ... without a gap
  Journal journal = Journal::rollback;
  bool read_only = false;  ///< never writes, never checkpoints, never migrates
  std::chrono::milliseconds busy_timeout{5000};  ///< how long to wait for another writer
  int cache_kib = 2048;                          ///< page cache; a small machine takes 512
  /// false: commits do not wait for the disk. For a file that can be made again; a power cut may
  /// leave it damaged.
  bool synced = true;
};

class Store {
 public:
  /// Opens `path`, makes it (and its folder) if it is not there, and migrates it. An older file is
  /// copied beside itself first: "book.db" from version 1 leaves "book.db.version-1".
  /// Throws Refused, the file untouched:
  ///   "no-file"       read_only and not there
  ///   "cannot-open"   no right, no folder, no write-ahead log on this kind of disk
  ///   "not-ours"      another program's, or another kind of ours
  ///   "newer-schema"  made by a newer program; "older-schema"  read_only and not yet migrated
  ///   "damaged-file"  truncated or overwritten
  ///   "busy"          another process did not finish in time
  static Store open(const std::filesystem::path& path, const StoreOptions& options);

  Store(Store&&) noexcept;
  Store& operator=(Store&&) noexcept;
  ~Store();

  SQLite::Database& database() { return *database_; }
  const std::filesystem::path& path() const { return path_; }
  int schema_version() const { return schema_version_; }
  /// The copy made before a migration in this very opening, or empty.
  const std::filesystem::path& copy_before_migration() const { return copy_; }

 private:
  Store(std::filesystem::path path, std::unique_ptr<SQLite::Database> database);
  void migrate(const StoreOptions& options);

  std::filesystem::path path_;
  std::unique_ptr<SQLite::Database> database_;
  int schema_version_ = 0;
  std::filesystem::path copy_;
};

}  // namespace takehold::daemon
