// Are two databases the same, row by row? What a backup and a restore are proven by.
#pragma once

#include <cstdint>
#include <string>

namespace SQLite {
class Database;
}

namespace takehold::daemon {

struct Comparison {
  int tables = 0;
  std::int64_t rows = 0;     ///< compared, all tables together
  std::string difference{};  ///< the first, in words: "table lot, row 12"; empty: they are the same
};

/// Compares application id, schema version, schema, and every value of every row of every table.
/// Both must hold still meanwhile: open a transaction around it where others may write. Throws
/// SQLite::Exception where a file cannot be read.
Comparison compare_databases(SQLite::Database& one, SQLite::Database& other);

}  // namespace takehold::daemon
