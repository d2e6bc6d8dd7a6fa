#include "client/book/copies.hpp"

#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Exception.h>
#include <SQLiteCpp/Statement.h>

#include <algorithm>

#include "client/book/inside.hpp"
#include "daemon/store/compare.hpp"
#include "daemon/store/copy.hpp"
#include "daemon/store/refusal.hpp"

namespace takehold::client {
namespace {

namespace fs = std::filesystem;
using sensors::Refused;

void refuse_same(const fs::path& one, const fs::path& other) {
  std::error_code none;
  if (!fs::equivalent(one, other, none)) return;
  throw Refused({"same-file", "this is the book itself", "", other.string(), "name another file"});
}

constexpr int kPatienceMs = 5000;

/// A connection for reading, and for writing where it is said.
SQLite::Database connected(const fs::path& path, int flags = SQLite::OPEN_READONLY) {
  return SQLite::Database(path.string(), flags, kPatienceMs);
}

/// Both must hold still, or be held by a transaction.
CopyProof proof_of(SQLite::Database& one, SQLite::Database& other, const fs::path& about) {
  const auto found = daemon::compare_databases(one, other);
  if (found.difference.empty()) return {found.tables, found.rows};
  throw Refused({"not-the-same", "the copy is not like the original: " + found.difference, "",
                 about.string(), "look at the disk's health, and try another"});
}

/// SQLite's and the disk's errors as refusals about this file.
template <class Work>
auto refusing(const fs::path& about, Work work) {
  try {
    return work();
  } catch (const SQLite::Exception& e) {
    throw daemon::refusal_of(e, about.string());
  } catch (const fs::filesystem_error& e) {
    throw Refused(
        {"cannot-write", "this file cannot be written", e.code().message(), about.string(), ""});
  }
}

fs::path with_ending(const fs::path& path, const std::string& ending) {
  return path.string() + ending;
}

/// A file and what SQLite may have left beside it.
void remove_with_journal(const fs::path& path) {
  std::error_code none;
  fs::remove(path, none);
  fs::remove(with_ending(path, "-journal"), none);
}

/// "20270412T093000Z": an instant as part of a file's name.
std::string stamp(sensors::Instant now) {
  std::string text = sensors::to_string(std::chrono::floor<std::chrono::seconds>(now));
  std::erase_if(text, [](char c) { return c == '-' || c == ':'; });
  return text;
}

fs::path name_aside(const fs::path& book, sensors::Instant now) {
  return with_ending(book, ".before-restore-" + stamp(now));
}

/// What SQLite cannot read is moved as it is, and the copy takes its place.
Restored replace_file(const fs::path& copy, const fs::path& book, sensors::Instant now) {
  Restored restored;
  if (fs::exists(book)) {
    restored.set_aside = name_aside(book, now);
    fs::rename(book, restored.set_aside);
    std::error_code none;
    fs::rename(with_ending(book, "-journal"), with_ending(restored.set_aside, "-journal"), none);
  }
  auto from = connected(copy);
  daemon::copy_database(from, book);
  auto placed = connected(book);
  restored.proof = proof_of(from, placed, book);
  return restored;
}

std::vector<std::string> tables_of(SQLite::Database& database) {
  std::vector<std::string> tables;
  SQLite::Statement names(database, "SELECT name FROM sqlite_master WHERE type = 'table'");
  while (names.executeStep()) tables.push_back(names.getColumn(0).getString());
  return tables;
}

/// The daemon may have heard of later states than the book now knows. Inside a transaction.
void tell_again(SQLite::Database& database, sensors::Instant now) {
  database.exec("UPDATE counter SET last = last + 1000 WHERE name LIKE 'revision:%'");
  const Tables tables(database);
  std::set<NounRef> inside;
  for (const Row& row : tables.now(Kind::batch))
    if (!left_chamber_at(tables, row.key)) inside.insert({Kind::batch, row.key});
  note_for_daemon(database, tables, database.execAndGet("SELECT uuid FROM book").getString(),
                  inside, now);
}

/// A sound book may be in use: under one write lock it is copied aside, its rows give way to the
/// copy's, all are compared, and it is committed.
Restored replace_rows(const fs::path& copy, const fs::path& book, sensors::Instant now) {
  auto current = connected(book, SQLite::OPEN_READWRITE);
  {
    SQLite::Statement attach(current, "ATTACH ? AS copy");
    attach.bind(1, copy.string());
    attach.exec();
  }
  current.exec("BEGIN IMMEDIATE");
  Restored restored;
  restored.set_aside = name_aside(book, now);
  auto before = connected(book);
  daemon::copy_database(before, restored.set_aside);
  for (const std::string& table : tables_of(current)) {
    current.exec("DELETE FROM main.\"" + table + "\"");
    current.exec("INSERT INTO main.\"" + table + "\" SELECT * FROM copy.\"" + table + "\"");
  }
  auto from = connected(copy);
  restored.proof = proof_of(from, current, book);
  tell_again(current, now);
  current.exec("COMMIT");
  return restored;
}

/// False: SQLite cannot read it. Throws what else is wrong with it; an older one is brought up to
/// date, for its rows are to be exchanged.
bool is_sound(const fs::path& book, sensors::Instant now) {
  try {
    return Book::open(book, now).complaints().empty();
  } catch (const Refused& refused) {
    if (refused.problem().code == "damaged-file") return false;
    throw;
  } catch (const SQLite::Exception&) {
    return false;
  }
}

/// The copy's own copy, sound and of this version.
class Prepared {
 public:
  Prepared(const fs::path& copy, const fs::path& beside, sensors::Instant now)
      : path_(with_ending(beside, ".restoring")) {
    if (!fs::exists(copy))
      throw Refused({"no-file", "there is no such file", "", copy.string(), ""});
    refusing(copy, [&] {
      SQLite::Database from(copy.string(), SQLite::OPEN_READONLY);
      daemon::copy_database(from, path_);
    });
    try {
      const Book book = Book::open(path_, now, {.time_zone = {}, .must_exist = true});
      if (const auto complaints = book.complaints(); !complaints.empty())
        throw Refused({"damaged-file", "this copy is damaged", complaints.front(), "", ""});
    } catch (Refused& refused) {
      remove_with_journal(path_);
      auto problem = refused.problem();
      problem.where = copy.string();
      throw Refused(std::move(problem));
    }
  }
  ~Prepared() {
    remove_with_journal(path_);
    std::error_code none;
    for (const auto& file : fs::directory_iterator(path_.parent_path(), none))
      if (file.path().string().starts_with(path_.string() + ".version-"))
        fs::remove(file.path(), none);
  }
  Prepared(const Prepared&) = delete;
  Prepared& operator=(const Prepared&) = delete;

  const fs::path& path() const { return path_; }

 private:
  fs::path path_;
};

}  // namespace

CopyProof back_up(const fs::path& book, const fs::path& to, sensors::Instant now) {
  refuse_same(book, to);
  const Book checked = Book::open(book, now, {.time_zone = {}, .must_exist = true});
  return refusing(to, [&] {
    // The lock keeps writers out while other connections read, copy and compare.
    auto lock = connected(book, SQLite::OPEN_READWRITE);
    lock.exec("BEGIN IMMEDIATE");
    auto reader = connected(book);
    daemon::copy_database(reader, to);
    auto copy = connected(to);
    return proof_of(reader, copy, to);
  });
}

Restored restore_book(const fs::path& copy, const fs::path& book, sensors::Instant now,
                      bool replace) {
  refuse_same(book, copy);
  if (fs::exists(book) && !replace)
    throw Refused({"book-exists", "there is a book already", "", book.string(),
                   "--replace sets it aside and puts the copy in its place"});
  if (book.has_parent_path()) fs::create_directories(book.parent_path());
  const Prepared prepared(copy, fs::absolute(book), now);
  return refusing(book, [&] {
    if (fs::exists(book) && is_sound(book, now)) return replace_rows(prepared.path(), book, now);
    Restored restored = replace_file(prepared.path(), book, now);
    auto placed = connected(book, SQLite::OPEN_READWRITE);
    placed.exec("BEGIN IMMEDIATE");
    tell_again(placed, now);
    placed.exec("COMMIT");
    return restored;
  });
}

}  // namespace takehold::client
