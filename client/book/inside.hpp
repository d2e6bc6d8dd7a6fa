// What a Book is made of. Only for the sources of this folder.
#pragma once

#include <map>
#include <set>
#include <span>
#include <string>

#include "client/book/book.hpp"
#include "daemon/store/store.hpp"
#include "daemon/store/transaction.hpp"

namespace takehold::client {

/// Of the file as one connection sees it: two that are equal saw the same rows, within one
/// transaction or outside of any.
struct FileState {
  int own_changes = 0;              ///< rows this connection ever wrote
  std::int64_t others_commits = 0;  ///< rises with every commit of another connection
  bool inside_transaction = false;
  bool operator==(const FileState&) const = default;
};
FileState file_state(SQLite::Database& database);

struct Book::Inside {
  daemon::Store store;
  Tables tables;
  std::string uuid;
  sensors::TimeZone time_zone;
  FileState read_at{};
  std::map<Kind, Read> read{};

  SQLite::Database& database() { return store.database(); }
  /// Every transaction begins here: what one that was rolled back read is forgotten.
  daemon::Transaction begin() {
    read.clear();
    return daemon::Transaction(store);
  }
};

/// A new command; inside a transaction.
CommandId begin_command(SQLite::Database& database, std::string_view words, sensors::Instant now,
                        std::optional<CommandId> undoes = std::nullopt);
/// In the order in which they were written.
void write_touches(SQLite::Database& database, CommandId command, std::span<const NounRef> nouns);
/// Oldest first.
std::vector<CommandLine> command_lines(SQLite::Database& database);
/// Nothing up to `number` is given out by this counter again.
void count_at_least(SQLite::Database& database, const std::string& counter, std::int64_t number);
/// Uses up and returns the next number of a counter.
std::int64_t count_up(SQLite::Database& database, const std::string& counter);

/// What `undo` refuses and does; inside a transaction.
Undone undo_command(SQLite::Database& database, const Tables& tables, sensors::Instant now,
                    std::optional<CommandId> command);

/// Book::left_chamber.
std::optional<sensors::Instant> left_chamber_at(const Tables& tables, const std::string& batch);

/// Puts the newest state of every batch that one of `nouns` is or names into the outbox; inside the
/// recording transaction.
void note_for_daemon(SQLite::Database& database, const Tables& tables, const std::string& uuid,
                     const std::set<NounRef>& nouns, sensors::Instant now);

}  // namespace takehold::client
