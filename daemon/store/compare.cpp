#include "daemon/store/compare.hpp"

#include <SQLiteCpp/SQLiteCpp.h>

#include <vector>

namespace takehold::daemon {
namespace {

std::vector<std::string> lines_of(SQLite::Database& database, const std::string& query) {
  std::vector<std::string> lines;
  SQLite::Statement statement(database, query);
  while (statement.executeStep()) {
    std::string line;
    for (int i = 0; i < statement.getColumnCount(); ++i) {
      line += statement.getColumn(i).getString() + '\x1f';
    }
    lines.push_back(std::move(line));
  }
  return lines;
}

bool same(const SQLite::Column& a, const SQLite::Column& b) {
  if (a.getType() != b.getType()) return false;
  if (a.isNull()) return true;
  if (a.isInteger()) return a.getInt64() == b.getInt64();
  if (a.isFloat()) return a.getDouble() == b.getDouble();
  return a.getString() == b.getString();  // text, or the bytes of a blob
}

bool same_row(SQLite::Statement& a, SQLite::Statement& b) {
  for (int i = 0; i < a.getColumnCount(); ++i) {
    if (!same(a.getColumn(i), b.getColumn(i))) return false;
  }
  return true;
}

std::string difference_in(SQLite::Database& one, SQLite::Database& other, const std::string& table,
                          std::int64_t& rows) {
  const std::string query = "SELECT * FROM \"" + table + "\"";  // in the order of its key
  SQLite::Statement a(one, query);
  SQLite::Statement b(other, query);
  for (std::int64_t row = 1;; ++row) {
    const bool more = a.executeStep();
    if (more != b.executeStep() || (more && !same_row(a, b))) {
      return "table " + table + ", row " + std::to_string(row);
    }
    if (!more) return "";
    ++rows;
  }
}

struct Look {
  const char* what;
  const char* query;
};
constexpr Look kLooks[] = {
    {"the kind of file", "PRAGMA application_id"},
    {"the version", "PRAGMA user_version"},
    {"the schema", "SELECT type, name, tbl_name, sql FROM sqlite_master ORDER BY type, name"}};

}  // namespace

Comparison compare_databases(SQLite::Database& one, SQLite::Database& other) {
  Comparison found;
  for (const Look& look : kLooks) {
    if (lines_of(one, look.query) == lines_of(other, look.query)) continue;
    found.difference = look.what;
    return found;
  }
  std::vector<std::string> tables;
  SQLite::Statement names(one, "SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name");
  while (names.executeStep()) tables.push_back(names.getColumn(0).getString());
  for (const std::string& table : tables) {
    found.difference = difference_in(one, other, table, found.rows);
    if (!found.difference.empty()) return found;
    ++found.tables;
  }
  return found;
}

}  // namespace takehold::daemon
