#include "daemon/store/store.hpp"

#include <SQLiteCpp/SQLiteCpp.h>
#include <sqlite3.h>

#include <cassert>
#include <stdexcept>
#include <string>

#include "daemon/store/copy.hpp"
#include "daemon/store/refusal.hpp"
#include "daemon/store/transaction.hpp"

namespace takehold::daemon {
namespace {

using sensors::Refused;
namespace fs = std::filesystem;

int pragma_number(SQLite::Database& database, const char* name) {
  return database.execAndGet(std::string("PRAGMA ") + name).getInt();
}

int newest_of(const StoreOptions& options) {
  return options.migrations.empty() ? 0 : options.migrations.back().version;
}

/// A file that SQLite has just made, or that nobody has put anything into yet.
bool is_blank(SQLite::Database& database) {
  return pragma_number(database, "application_id") == 0 &&
         pragma_number(database, "user_version") == 0 &&
         database.execAndGet("SELECT count(*) FROM sqlite_master").getInt() == 0;
}

/// Closing the last connection moves the write-ahead log into the file. Not in one we refuse.
void leave_as_it_was(SQLite::Database& database, bool on) {
  sqlite3_db_config(database.getHandle(), SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, on ? 1 : 0, nullptr);
}

/// Reads only: a file that is refused is left as it was, its journal mode too.
void check_identity(SQLite::Database& database, const fs::path& path, const StoreOptions& options) {
  if (is_blank(database)) {
    if (!options.read_only) return;
    throw Refused({"older-schema", "this file is still empty", "", path.string(), ""});
  }
  if (pragma_number(database, "application_id") != options.application_id) {
    throw Refused({"not-ours", "this file belongs to another program or has another purpose", "",
                   path.string(), "name the right file"});
  }
  const int version = pragma_number(database, "user_version");
  if (version > newest_of(options)) {
    throw Refused({"newer-schema", "this file was written by a newer version of the program",
                   "file version " + std::to_string(version) + ", this program knows up to " +
                       std::to_string(newest_of(options)),
                   path.string(), "update the program; the file was not touched"});
  }
  if (options.read_only && version < newest_of(options)) {
    throw Refused({"older-schema", "this file has not yet been brought up to date", "",
                   path.string(), "start the program that writes it once"});
  }
}

void set_connection(SQLite::Database& database, const StoreOptions& options) {
  database.exec(options.synced ? "PRAGMA synchronous=FULL" : "PRAGMA synchronous=OFF");
  database.exec("PRAGMA trusted_schema=OFF");
  database.exec("PRAGMA cell_size_check=ON");
  database.exec("PRAGMA cache_size=-" + std::to_string(options.cache_kib));
  if (options.read_only) {
    database.exec("PRAGMA wal_autocheckpoint=0");
    database.exec("PRAGMA query_only=ON");
  }
}

void set_journal(SQLite::Database& database, const fs::path& path, const StoreOptions& options) {
  if (options.read_only) return;
  // TRUNCATE and not DELETE: with synchronous FULL the emptied journal is synced, so that a commit
  // that was reported outlives a power cut; a deleted one's folder entry is not.
  const std::string wanted = options.journal == Journal::wal ? "wal" : "truncate";
  const auto got = database.execAndGet("PRAGMA journal_mode=" + wanted).getString();
  if (got == wanted) return;
  throw Refused({"cannot-open", "this disk does not carry the journal that is needed",
                 "wanted " + wanted + ", got " + got, path.string(), "use a local disk"});
}

void run_steps(SQLite::Database& database, const StoreOptions& options, int from) {
  for (const auto& step : options.migrations) {
    if (step.version > from) database.exec(std::string(step.sql));
  }
  SQLite::Statement broken(database, "PRAGMA foreign_key_check");
  if (broken.executeStep()) {
    throw std::logic_error("migration breaks a reference in table " +
                           broken.getColumn(0).getString());
  }
  database.exec("PRAGMA application_id=" + std::to_string(options.application_id));
  database.exec("PRAGMA user_version=" + std::to_string(newest_of(options)));
}

fs::path copy_of_version(const fs::path& path, int version) {
  fs::path copy = path;
  copy += ".version-" + std::to_string(version);
  return copy;
}

/// SQLite takes a file shorter than its smallest page for an empty one and would write over it.
void check_length(const fs::path& path) {
  constexpr std::uintmax_t kSmallestPage = 512;
  std::error_code none;
  const auto length = fs::file_size(path, none);
  if (none || length == 0 || length >= kSmallestPage) return;
  throw Refused({"damaged-file", "this file is cut short", std::to_string(length) + " bytes",
                 path.string(), "keep it as it is and restore a backup beside it"});
}

std::unique_ptr<SQLite::Database> connect(const fs::path& path, const StoreOptions& options) {
  if (options.read_only && !fs::exists(path)) {
    throw Refused({"no-file", "there is no such file", "", path.string(), ""});
  }
  if (!options.read_only && path.has_parent_path()) {
    std::error_code why;
    fs::create_directories(path.parent_path(), why);
    if (why) {
      throw Refused({"cannot-open", "this folder cannot be made", why.message(),
                     path.parent_path().string(), ""});
    }
  }
  check_length(path);
  // One thread at a time (see the header): without SQLite's own lock around every column of a row.
  const int flags =
      SQLite::OPEN_NOMUTEX |
      (options.read_only ? SQLite::OPEN_READONLY : SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
  return std::make_unique<SQLite::Database>(path.string(), flags,
                                            static_cast<int>(options.busy_timeout.count()));
}

}  // namespace

Store::Store(fs::path path, std::unique_ptr<SQLite::Database> database)
    : path_(std::move(path)), database_(std::move(database)) {}
Store::Store(Store&&) noexcept = default;
Store& Store::operator=(Store&&) noexcept = default;
Store::~Store() = default;

void Store::migrate(const StoreOptions& options) {
  // Under the write lock, for two processes may find the same old file at one moment.
  Transaction all(*database_, path_.string());
  check_identity(*database_, path_, options);
  const int from = pragma_number(*database_, "user_version");
  if (from < newest_of(options)) {
    if (from > 0) {
      const auto copy = copy_of_version(path_, from);
      // Another connection, for a backup out of a connection with an open write would hold it too.
      SQLite::Database reader(path_.string(), SQLite::OPEN_READONLY);
      copy_database(reader, copy);
      copy_ = copy;
    }
    run_steps(*database_, options, from);
  }
  all.commit();
}

Store Store::open(const fs::path& path, const StoreOptions& options) {
  assert(options.application_id != 0);
  try {
    Store store(path, connect(path, options));
    leave_as_it_was(*store.database_, true);
    check_identity(*store.database_, path, options);
    leave_as_it_was(*store.database_, options.read_only);
    set_connection(*store.database_, options);
    set_journal(*store.database_, path, options);
    if (!options.read_only &&
        pragma_number(*store.database_, "user_version") < newest_of(options)) {
      store.migrate(options);
    }
    store.database_->exec("PRAGMA foreign_keys=ON");
    store.schema_version_ = pragma_number(*store.database_, "user_version");
    return store;
  } catch (const SQLite::Exception& e) {
    throw refusal_of(e, path.string());
  }
}

}  // namespace takehold::daemon
