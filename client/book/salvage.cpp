// Row by row, for a damaged page must cost its own rows only: a scan ends at the first page that
// cannot be read, so every row is asked for by its number. Tables without row numbers are scanned
// from both ends.
#include "client/book/salvage.hpp"

#include <SQLiteCpp/SQLiteCpp.h>

#include <algorithm>

#include "client/book/columns.hpp"
#include "client/book/inside.hpp"
#include "daemon/store/transaction.hpp"

namespace takehold::client {
namespace {

namespace fs = std::filesystem;
using sensors::Refused;

/// How far behind the last row that a scan reached rows are still looked for.
constexpr std::int64_t kLookBehind = 20000;

std::string in_quotes(const std::string& name) {
  return "\"" + name + "\"";
}

std::vector<std::string> texts_of(SQLite::Database& database, const std::string& query) {
  std::vector<std::string> texts;
  SQLite::Statement statement(database, query);
  while (statement.executeStep()) texts.push_back(statement.getColumn(0).getString());
  return texts;
}

std::vector<std::string> columns_in(SQLite::Database& database, const std::string& table) {
  return texts_of(database, "SELECT name FROM pragma_table_info('" + table + "')");
}

/// The columns that both books have, as a list for SQL.
std::string shared_columns(SQLite::Database& from, SQLite::Database& to, const std::string& table) {
  const auto here = columns_in(to, table);
  std::string list;
  for (const std::string& column : columns_in(from, table))
    if (std::find(here.begin(), here.end(), column) != here.end())
      list += (list.empty() ? "" : ", ") + in_quotes(column);
  return list;
}

/// Moves rows of one table; remembers whether any could not be reached.
class TableMover {
 public:
  TableMover(SQLite::Database& from, SQLite::Database& to, const std::string& table)
      : from_(from), to_(to), table_(table), columns_(shared_columns(from, to, table)) {
    moved_.name = table;
  }

  SalvagedTable move() {
    if (columns_.empty()) return moved_;
    const bool numbered = has_row_numbers();
    if (!scan("") && numbered) ask_one_by_one();
    if (moved_.cut_short && !numbered) scan(" ORDER BY " + first_column() + " DESC");
    return moved_;
  }

 private:
  bool has_row_numbers() const {
    return texts_of(to_,
                    "SELECT name FROM pragma_table_list WHERE name = '" + table_ + "' AND wr = 0")
        .size();
  }
  std::string first_column() const { return columns_.substr(0, columns_.find(',')); }

  /// False: it ended at something that cannot be read.
  bool scan(const std::string& order) {
    try {
      SQLite::Statement row(from_, "SELECT " + columns_ + " FROM " + in_quotes(table_) + order);
      while (row.executeStep()) write(row);
    } catch (const SQLite::Exception&) {
      moved_.cut_short = true;
    }
    return !moved_.cut_short;
  }

  void ask_one_by_one() {
    const std::int64_t end = last_number() + kLookBehind;
    for (std::int64_t number = 1; number <= end; ++number) {
      try {
        SQLite::Statement row(from_, "SELECT " + columns_ + " FROM " + in_quotes(table_) +
                                         " WHERE rowid = " + std::to_string(number));
        if (row.executeStep()) write(row);
      } catch (const SQLite::Exception&) {
        // This row's page is lost; the next may stand on another.
      }
    }
  }

  std::int64_t last_number() const {
    std::int64_t last = 0;
    for (SQLite::Database* database : {&from_, &to_}) {
      try {
        const auto cell =
            database->execAndGet("SELECT coalesce(max(rowid), 0) FROM " + in_quotes(table_));
        last = std::max(last, cell.getInt64());
      } catch (const SQLite::Exception&) {
      }
    }
    return last;
  }

  void write(SQLite::Statement& row) {
    std::string marks = "?";
    for (int i = 1; i < row.getColumnCount(); ++i) marks += ", ?";
    SQLite::Statement insert(to_, "INSERT OR IGNORE INTO " + in_quotes(table_) + " (" + columns_ +
                                      ") VALUES (" + marks + ")");
    for (int i = 0; i < row.getColumnCount(); ++i) bind(insert, i + 1, row.getColumn(i));
    try {
      moved_.rows += insert.exec();
    } catch (const SQLite::Exception&) {
      moved_.cut_short = true;  // bytes that are no such row: a STRICT table does not take them
    }
  }

  static void bind(SQLite::Statement& statement, int at, const SQLite::Column& cell) {
    if (cell.isNull()) return statement.bind(at);
    if (cell.isInteger()) return statement.bind(at, cell.getInt64());
    if (cell.isFloat()) return statement.bind(at, cell.getDouble());
    statement.bind(at, cell.getString());
  }

  SQLite::Database& from_;
  SQLite::Database& to_;
  std::string table_;
  std::string columns_;
  SalvagedTable moved_{};
};

/// What other tables say about a table that lost rows.
void mend(SQLite::Database& to, sensors::Instant now) {
  for (const Kind kind : kAllKinds) {
    const std::string table(kind_name(kind));
    SQLite::Statement commands(to,
                               "INSERT OR IGNORE INTO command (id, entered_at, words)"
                               " SELECT DISTINCT command, ?, 'lost in the damaged book' FROM " +
                                   table);
    commands.bind(1, sensors::to_string(now));
    commands.exec();
    to.exec("INSERT OR IGNORE INTO touch (command, kind, key) SELECT command, '" + table +
            "', key FROM " + table);
    if (kind_letter(kind) == 0) continue;
    const std::string letter(1, kind_letter(kind));
    to.exec("INSERT INTO counter (name, last) SELECT '" + letter +
            "', coalesce(max(CAST(substr(key, 2) AS INTEGER)), 0) FROM " + table +
            " WHERE true ON CONFLICT (name) DO UPDATE SET last = max(last, excluded.last)");
  }
  to.exec("DELETE FROM touch WHERE command NOT IN (SELECT id FROM command)");
  to.exec("UPDATE command SET undoes = NULL WHERE undoes NOT IN (SELECT id FROM command)");
}

std::vector<std::string> loose_ends(const Tables& tables) {
  std::vector<std::string> ends;
  for (const Kind kind : kAllKinds)
    for (const Row& row : tables.now(kind))
      for (const NounRef& lost : tables.missing_references(kind, row.fields))
        ends.push_back(std::string(kind_name(kind)) + " " + row.key + " names " +
                       std::string(kind_name(lost.kind)) + " " + lost.key);
  return ends;
}

std::vector<std::string> tables_of(SQLite::Database& database) {
  return texts_of(database,
                  "SELECT name FROM sqlite_master WHERE type = 'table'"
                  " AND name NOT LIKE 'sqlite_%' ORDER BY rowid");
}

void refuse_unreadable(SQLite::Database& from, const fs::path& damaged) {
  std::vector<std::string> tables;
  try {
    tables = tables_of(from);
  } catch (const SQLite::Exception& e) {
    throw Refused({"nothing-readable", "not even the list of its tables can be read",
                   e.getErrorStr(), damaged.string(), "restore a backup"});
  }
  if (std::find(tables.begin(), tables.end(), "command") != tables.end()) return;
  throw Refused({"not-ours", "this is no book", "", damaged.string(), ""});
}

/// Everything out of `from` into a new book, in one transaction.
Salvaged moved(SQLite::Database& from, const fs::path& to, sensors::Instant now) {
  Salvaged salvaged;
  Book::open(to, now);
  SQLite::Database target(to.string(), SQLite::OPEN_READWRITE);
  target.exec("BEGIN IMMEDIATE; CREATE TEMP TABLE made AS SELECT * FROM book; DELETE FROM book");
  for (const std::string& table : tables_of(target))
    salvaged.tables.push_back(TableMover(from, target, table).move());
  salvaged.new_identity =
      target.exec("INSERT INTO book SELECT * FROM made WHERE NOT EXISTS (SELECT 1 FROM book)") > 0;
  mend(target, now);
  target.exec("COMMIT");
  salvaged.loose_ends = loose_ends(Tables(target));
  return salvaged;
}

/// A copy of the bytes, for SQLite may write to what it opens: it would finish a broken
/// transaction.
class Remains {
 public:
  explicit Remains(const fs::path& damaged, const fs::path& beside)
      : path_(beside.string() + ".remains") {
    std::error_code none;
    fs::copy_file(damaged, path_, fs::copy_options::overwrite_existing);
    fs::copy_file(damaged.string() + "-journal", path_.string() + "-journal",
                  fs::copy_options::overwrite_existing, none);
  }
  ~Remains() {
    std::error_code none;
    fs::remove(path_, none);
    fs::remove(path_.string() + "-journal", none);
  }
  Remains(const Remains&) = delete;
  Remains& operator=(const Remains&) = delete;
  const fs::path& path() const { return path_; }

 private:
  fs::path path_;
};

}  // namespace

std::int64_t Salvaged::rows() const {
  std::int64_t sum = 0;
  for (const SalvagedTable& table : tables) sum += table.rows;
  return sum;
}

Salvaged salvage_book(const fs::path& damaged, const fs::path& to, sensors::Instant now) {
  if (!fs::exists(damaged))
    throw Refused({"no-file", "there is no such file", "", damaged.string(), ""});
  if (fs::exists(to))
    throw Refused({"file-exists", "there is such a file already", "", to.string(), "name another"});
  const Remains remains(damaged, to);
  SQLite::Database from(remains.path().string(), SQLite::OPEN_READWRITE);
  refuse_unreadable(from, damaged);
  try {
    return moved(from, to, now);
  } catch (...) {
    std::error_code none;
    fs::remove(to, none);
    throw;
  }
}

}  // namespace takehold::client
