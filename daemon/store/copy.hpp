// A faithful copy of an open database, also while others read and write it.
#pragma once

#include <filesystem>

namespace SQLite {
class Database;
}

namespace takehold::daemon {

/// Copies what is committed in `from` to `to`, replacing it. The copy is written beside `to`,
/// synced to the disk and then renamed, so that `to` is whole or was never touched. Throws
/// SQLite::Exception or std::filesystem::filesystem_error.
void copy_database(SQLite::Database& from, const std::filesystem::path& to);

}  // namespace takehold::daemon
