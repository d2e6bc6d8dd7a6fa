#include "client/book/copies.hpp"

#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Exception.h>

#include <algorithm>

#include "client/book/inside.hpp"
#include "daemon/store/compare.hpp"
#include "daemon/store/copy.hpp"
#include "daemon/store/refusal.hpp"
#include "daemon/store/transaction.hpp"

namespace takehold::client {
namespace {

namespace fs = std::filesystem;
using sensors::Refused;

void refuse_same(const fs::path& one, const fs::path& other) {
  std::error_code none;
  if (!fs::equivalent(one, other, none)) return;
  throw Refused({"same-file", "this is the book itself", "", other.string(), "name another file"});
}

/// Of two files that hold still.
CopyProof proof_of(const fs::path& one, const fs::path& other) {
  SQLite::Database a(one.string(), SQLite::OPEN_READONLY);
  SQLite::Database b(other.string(), SQLite::OPEN_READONLY);
  const auto found = daemon::compare_databases(a, b);
  if (found.difference.empty()) return {found.tables, found.rows};
  throw Refused({"not-the-same", "the copy is not like the book: " + found.difference, "",
                 other.string(), "look at the disk's health, and try another"});
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

/// A sound book is copied while it may be in use; what SQLite cannot read is moved as it is.
fs::path set_aside(const fs::path& book, sensors::Instant now) {
  const fs::path aside = with_ending(book, ".before-restore-" + stamp(now));
  try {
    SQLite::Database current(book.string(), SQLite::OPEN_READONLY);
    daemon::copy_database(current, aside);
  } catch (const SQLite::Exception& e) {
    const auto refusal = daemon::refusal_of(e, book.string());
    if (refusal.problem().code != "damaged-file") throw refusal;
    fs::rename(book, aside);
    std::error_code none;
    fs::rename(with_ending(book, "-journal"), with_ending(aside, "-journal"), none);
  }
  return aside;
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
    // The lock keeps writers out while another connection reads, copies and compares.
    SQLite::Database lock(book.string(), SQLite::OPEN_READWRITE, 5000);
    lock.exec("BEGIN IMMEDIATE");
    SQLite::Database reader(book.string(), SQLite::OPEN_READONLY);
    daemon::copy_database(reader, to);
    return proof_of(book, to);
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
    Restored restored;
    if (fs::exists(book)) restored.set_aside = set_aside(book, now);
    SQLite::Database from(prepared.path().string(), SQLite::OPEN_READONLY);
    daemon::pour_database(from, book);
    restored.proof = proof_of(prepared.path(), book);
    return restored;
  });
}

}  // namespace takehold::client
