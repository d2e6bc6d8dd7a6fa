#include "daemon/store/copy.hpp"

#include <SQLiteCpp/Backup.h>
#include <SQLiteCpp/SQLiteCpp.h>
#include <fcntl.h>
#include <sqlite3.h>
#include <unistd.h>

#include <cerrno>
#include <system_error>

namespace takehold::daemon {
namespace {

void sync_to_disk(const std::filesystem::path& path) {
  const int file = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
  if (file < 0 || ::fsync(file) != 0) {
    const std::error_code why(errno, std::generic_category());
    if (file >= 0) ::close(file);
    throw std::filesystem::filesystem_error("cannot sync", path, why);
  }
  ::close(file);
}

std::filesystem::path folder_of(const std::filesystem::path& path) {
  return path.has_parent_path() ? path.parent_path() : std::filesystem::path(".");
}

/// Every page at one go. A lock that another process holds too long is an error like any other.
void copy_pages(SQLite::Database& from, SQLite::Database& to) {
  SQLite::Backup backup(to, from);
  if (const int code = backup.executeStep(); code != SQLITE_DONE) {
    throw SQLite::Exception("another process holds the file", code);
  }
}

}  // namespace

void copy_database(SQLite::Database& from, const std::filesystem::path& to) {
  auto part = to;
  part += ".part";
  std::filesystem::remove(part);
  {
    SQLite::Database copy(part.string(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
    copy_pages(from, copy);
  }
  {
    // A copy of a write-ahead log's database would need companion files; make it stand alone.
    SQLite::Database copy(part.string(), SQLite::OPEN_READWRITE);
    copy.exec("PRAGMA journal_mode=DELETE");
  }
  sync_to_disk(part);
  std::filesystem::rename(part, to);
  sync_to_disk(folder_of(to));
}

}  // namespace takehold::daemon
