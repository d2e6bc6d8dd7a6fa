// A small schema for tests of the store: a shelf with jars, and its next version.
#pragma once

#include "daemon/store/store.hpp"

namespace takehold::daemon {

inline constexpr std::int32_t kShelfId = 0x53484c46;

inline StoreOptions shelf_options(int versions, Journal journal = Journal::rollback) {
  StoreOptions options;
  options.application_id = kShelfId;
  options.journal = journal;
  options.migrations = {{1, "001_jar.sql",
                         "CREATE TABLE jar (id INTEGER PRIMARY KEY, seeds INTEGER NOT NULL) STRICT;"
                         "CREATE TABLE label (jar INTEGER NOT NULL REFERENCES jar(id)) STRICT;"}};
  if (versions > 1) {
    options.migrations.push_back(
        {2, "002_year.sql", "ALTER TABLE jar ADD COLUMN year INTEGER NOT NULL DEFAULT 2027;"});
  }
  return options;
}

}  // namespace takehold::daemon
