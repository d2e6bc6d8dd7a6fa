// A faithful copy of an open database, also while others read and write it.
#pragma once

#include <chrono>
#include <filesystem>

namespace SQLite {
class Database;
}

namespace takehold::daemon {

/// Copies what is committed in `from` to `to`, replacing it. The copy is written beside `to`,
/// synced to the disk and then renamed, so that `to` is whole or was never touched. Throws
/// SQLite::Exception or std::filesystem::filesystem_error.
void copy_database(SQLite::Database& from, const std::filesystem::path& to);

/// Makes `to`, which others may have open, hold just what `from` holds; what stood there is gone.
/// Written in place under the write lock: other processes see all of it or nothing. Throws
/// SQLite::Exception, with SQLITE_BUSY when another process does not let go of `to` in time.
void pour_database(SQLite::Database& from, const std::filesystem::path& to,
                   std::chrono::milliseconds patience = std::chrono::seconds(5));

}  // namespace takehold::daemon
