#include "client/book/tables.hpp"

#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Statement.h>

#include "client/book/columns.hpp"

namespace takehold::client {
namespace {

using nlohmann::json;

std::string quoted(std::string_view name) {
  return "\"" + std::string(name) + "\"";
}

std::string column_list(Kind kind) {
  std::string list;
  for (const FieldColumn& column : columns_of(kind)) list += ", t." + quoted(column.field.name);
  return list;
}

void bind(SQLite::Statement& statement, int at, const FieldColumn& column, const json& value) {
  if (value.is_null()) {
    statement.bind(at);
    return;
  }
  switch (column.type) {
    case ColumnType::text:
      statement.bind(at, value.get<std::string>());
      break;
    case ColumnType::integer:
      statement.bind(at, value.get<std::int64_t>());
      break;
    case ColumnType::flag:
      statement.bind(at, value.get<bool>() ? 1 : 0);
      break;
    case ColumnType::real:
      statement.bind(at, value.get<double>());
      break;
    case ColumnType::list:
      statement.bind(at, value.dump());
      break;
  }
}

json value_of(const SQLite::Column& cell, const FieldColumn& column) {
  if (cell.isNull()) return nullptr;
  switch (column.type) {
    case ColumnType::text:
      return cell.getString();
    case ColumnType::integer:
      return cell.getInt64();
    case ColumnType::flag:
      return cell.getInt() != 0;
    case ColumnType::real:
      return cell.getDouble();
    case ColumnType::list:
      return json::parse(cell.getString());
  }
  return nullptr;
}

// Columns 0..6 are the row's own, the noun's follow.
Row row_of(SQLite::Statement& statement, Kind kind) {
  Row row{.row = statement.getColumn(0).getInt64(),
          .key = statement.getColumn(1).getString(),
          .command = statement.getColumn(2).getInt64(),
          .first_told = {statement.getColumn(3).getInt64(), statement.getColumn(4).getInt()},
          .entered_at = sensors::parse_instant(statement.getColumn(5).getString()).value(),
          .gone = statement.getColumn(6).getInt() != 0,
          .fields = json::object()};
  int at = 7;
  for (const FieldColumn& column : columns_of(kind))
    row.fields[std::string(column.field.name)] = value_of(statement.getColumn(at++), column);
  return row;
}

// The keys that one field of a noun names.
std::vector<std::string> named(const FieldColumn& column, const json& fields) {
  std::vector<std::string> keys;
  const json& value = fields.at(std::string(column.field.name));
  for (const json& item : value.is_array() ? value : json::array({value}))
    if (item.is_string() && !item.get<std::string>().empty())
      keys.push_back(item.get<std::string>());
  return keys;
}

std::optional<Kind> kind_meant(const Field& field, std::string_view key) {
  return field.refers_by_letter ? kind_of_key(key) : field.refers;
}

}  // namespace

std::vector<Row> Tables::select(Kind kind, const std::string& condition, std::string_view key,
                                std::int64_t number) const {
  const std::string name(kind_name(kind));
  SQLite::Statement statement(*database_,
                              "SELECT t.row, t.key, t.command,"
                              " (SELECT min(f.command) FROM " +
                                  name +
                                  " f WHERE f.key = t.key) AS first,"
                                  " coalesce((SELECT p.place FROM touch p WHERE p.kind = '" +
                                  name +
                                  "' AND p.key = t.key ORDER BY p.command LIMIT 1), 0),"
                                  " c.entered_at, t.gone" +
                                  column_list(kind) + " FROM " + name +
                                  " t JOIN command c ON c.id = t.command WHERE " + condition);
  if (condition.find(":key") != std::string::npos) statement.bind(":key", std::string(key));
  if (condition.find(":number") != std::string::npos) statement.bind(":number", number);
  std::vector<Row> rows;
  while (statement.executeStep()) rows.push_back(row_of(statement, kind));
  return rows;
}

std::vector<Row> Tables::now(Kind kind) const {
  const std::string name(kind_name(kind));
  return select(kind,
                "t.gone = 0 AND t.row IN (SELECT max(row) FROM " + name +
                    " GROUP BY key)"
                    " ORDER BY (SELECT min(row) FROM " +
                    name + " f WHERE f.key = t.key)",
                {}, 0);
}

std::optional<Row> Tables::find(Kind kind, std::string_view key) const {
  auto rows = select(kind, "t.key = :key ORDER BY t.row DESC LIMIT 1", key, 0);
  if (rows.empty() || rows.front().gone) return std::nullopt;
  return rows.front();
}

std::vector<Row> Tables::history(Kind kind, std::string_view key) const {
  return select(kind, "t.key = :key ORDER BY t.row", key, 0);
}

std::optional<Row> Tables::before(Kind kind, std::string_view key, CommandId command) const {
  auto rows = select(kind, "t.key = :key AND t.command < :number ORDER BY t.row DESC LIMIT 1", key,
                     command);
  if (rows.empty()) return std::nullopt;
  return rows.front();
}

void Tables::append(Kind kind, std::string_view key, CommandId command, bool gone,
                    const json& fields) const {
  std::string names;
  std::string marks;
  for (const FieldColumn& column : columns_of(kind)) {
    names += ", " + quoted(column.field.name);
    marks += ", ?";
  }
  SQLite::Statement statement(*database_, "INSERT INTO " + std::string(kind_name(kind)) +
                                              " (key, command, gone" + names + ") VALUES (?, ?, ?" +
                                              marks + ")");
  statement.bind(1, std::string(key));
  statement.bind(2, command);
  statement.bind(3, gone ? 1 : 0);
  int at = 4;
  for (const FieldColumn& column : columns_of(kind))
    bind(statement, at++, column, fields.at(std::string(column.field.name)));
  statement.exec();
}

std::vector<NounRef> Tables::referrers(Kind kind, std::string_view key) const {
  std::vector<NounRef> found;
  for (const Kind other : kAllKinds) {
    std::string condition;
    for (const FieldColumn& column : columns_of(other)) {
      if (kind_meant(column.field, key) != kind) continue;
      const std::string name = quoted(column.field.name);
      condition += condition.empty() ? "" : " OR ";
      condition += column.type == ColumnType::list
                       ? "EXISTS (SELECT 1 FROM json_each(" + name + ") WHERE value = :key)"
                       : name + " = :key";
    }
    if (condition.empty()) continue;
    SQLite::Statement statement(*database_, "SELECT key FROM " + std::string(kind_name(other)) +
                                                "_now WHERE " + condition + " ORDER BY row");
    statement.bind(":key", std::string(key));
    while (statement.executeStep()) found.push_back({other, statement.getColumn(0).getString()});
  }
  return found;
}

std::vector<NounRef> Tables::missing_references(Kind kind, const json& fields) const {
  std::vector<NounRef> missing;
  for (const FieldColumn& column : columns_of(kind)) {
    if (!column.field.refers && !column.field.refers_by_letter) continue;
    for (const std::string& key : named(column, fields)) {
      const auto meant = kind_meant(column.field, key);
      if (!meant || !find(*meant, key)) missing.push_back({meant.value_or(Kind::sowing), key});
    }
  }
  return missing;
}

}  // namespace takehold::client
