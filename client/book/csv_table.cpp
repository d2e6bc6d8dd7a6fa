#include "client/book/csv_table.hpp"

#include <algorithm>
#include <charconv>
#include <map>
#include <set>

#include "client/book/columns.hpp"
#include "embedded/book_dictionary.hpp"
#include "sensors/codec/csv.hpp"

namespace takehold::client {
namespace {

using nlohmann::json;
using sensors::CsvField;
using sensors::CsvRow;
using sensors::Refused;

constexpr const char* kTold = "told";
constexpr const char* kEnteredAt = "entered_at";

CsvField text_of(const json& value, ColumnType type) {
  if (value.is_null()) return std::nullopt;
  if (type == ColumnType::text) return value.get<std::string>();
  if (type == ColumnType::flag) return value.get<bool>() ? "1" : "0";
  return value.dump();
}

/// Where one field of a table stands, for messages.
struct Cell {
  std::string where;
  std::string column;
};

[[noreturn]] void refuse(const Cell& cell, const std::string& text, const char* wanted) {
  throw Refused(
      {"bad-value", "\"" + text + "\" is no " + wanted, "column " + cell.column, cell.where, ""});
}

template <class Number>
Number number_in(const std::string& text, const Cell& cell, const char* wanted) {
  Number number{};
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (error != std::errc() || end != text.data() + text.size()) refuse(cell, text, wanted);
  return number;
}

json value_of(const CsvField& field, const FieldColumn& column, const Cell& cell) {
  if (!field && column.nullable) return nullptr;
  const std::string text = field.value_or("");
  switch (column.type) {
    case ColumnType::text:
      return text;
    case ColumnType::integer:
      return number_in<std::int64_t>(text, cell, "whole number");
    case ColumnType::flag:
      if (text != "0" && text != "1") refuse(cell, text, "0 or 1");
      return text == "1";
    case ColumnType::real:
      return number_in<double>(text, cell, "number");
    case ColumnType::list: {
      json list = json::parse(text, nullptr, false);
      if (!list.is_array()) refuse(cell, text, "list in square brackets");
      return list;
    }
  }
  return nullptr;
}

/// Names of columns to their place in a row.
using Heads = std::map<std::string, std::size_t>;

Heads heads_of(const CsvRow& first, Kind kind, const std::string& file) {
  Heads heads;
  for (std::size_t i = 0; i < first.fields.size(); ++i) {
    heads.emplace(first.fields[i].value_or(""), i);
  }
  for (const FieldColumn& column : columns_of(kind)) {
    if (heads.contains(std::string(column.field.name))) continue;
    throw Refused({"missing-column",
                   "the first line does not name the column " + std::string(column.field.name), "",
                   file + ":" + std::to_string(first.line), ""});
  }
  return heads;
}

CsvField field_of(const CsvRow& row, const Heads& heads, const std::string& name) {
  const auto head = heads.find(name);
  if (head == heads.end() || head->second >= row.fields.size()) return std::nullopt;
  return row.fields[head->second];
}

PlainNoun noun_of(const CsvRow& row, const Heads& heads, Kind kind, const std::string& file) {
  const std::string where = file + ":" + std::to_string(row.line);
  json fields = json::object();
  for (const FieldColumn& column : columns_of(kind)) {
    const std::string name(column.field.name);
    fields[name] = value_of(field_of(row, heads, name), column, {where, name});
  }
  PlainNoun noun{kind, "", {}, std::nullopt, {}};
  try {
    std::tie(noun.key, noun.fields) = checked_noun(kind, fields);
  } catch (const Refused& refused) {
    auto problem = refused.problem();
    problem.where = where;
    throw Refused(std::move(problem));
  }
  if (const auto told = field_of(row, heads, kTold)) {
    noun.told = number_in<std::int64_t>(*told, {where, kTold}, "whole number");
  }
  return noun;
}

/// The unit that a column's name ends in.
std::string unit_of(std::string_view column) {
  constexpr std::pair<std::string_view, const char*> kEndings[] = {{"_degc", "degrees Celsius"},
                                                                   {"_pct", "%"},
                                                                   {"_mm", "mm"},
                                                                   {"_kg", "kg"},
                                                                   {"_hours", "h"},
                                                                   {"hours", "h"},
                                                                   {"_days", "days"},
                                                                   {"_on", "day"},
                                                                   {"_at", "instant, UTC"}};
  for (const auto& [ending, unit] : kEndings) {
    if (column.ends_with(ending)) return unit;
  }
  if (column == "at") return "instant, UTC";
  return column == "on" ? "day" : "";
}

const char* type_text(ColumnType type) {
  switch (type) {
    case ColumnType::text:
      return "text";
    case ColumnType::integer:
      return "whole number";
    case ColumnType::flag:
      return "0 or 1";
    case ColumnType::real:
      return "number";
    case ColumnType::list:
      return "list (JSON)";
  }
  return "";
}

using Meanings = std::map<std::pair<std::string, std::string>, std::string>;

Meanings meanings() {
  Meanings found;
  const auto& file = embedded::book_dictionary.front();
  for (const CsvRow& row : sensors::parse_csv(file.text, file.name).value()) {
    found[{row.fields.at(0).value(), row.fields.at(1).value()}] = row.fields.at(2).value();
  }
  return found;
}

std::string meaning_of(const Meanings& all, const std::string& table, const std::string& column) {
  auto found = all.find({table, column});
  if (found == all.end()) found = all.find({"*", column});
  return found == all.end() ? "" : found->second;
}

CsvField or_missing(const std::string& text) {
  return text.empty() ? CsvField() : CsvField(text);
}

std::string names_text(const Field& field) {
  if (field.refers_by_letter) return "sowing or batch";
  return field.refers ? std::string(kind_name(*field.refers)) : "";
}

}  // namespace

std::string csv_of(Kind kind, std::span<const PlainNoun> nouns) {
  std::vector<CsvField> head{kTold};
  for (const FieldColumn& column : columns_of(kind)) head.emplace_back(column.field.name);
  head.emplace_back(kEnteredAt);
  std::string text = sensors::csv_line(head);
  for (const PlainNoun& noun : nouns) {
    if (noun.kind != kind) continue;
    std::vector<CsvField> row{std::to_string(noun.told.value_or(0))};
    for (const FieldColumn& column : columns_of(kind)) {
      row.push_back(text_of(noun.fields.at(std::string(column.field.name)), column.type));
    }
    row.emplace_back(sensors::to_string(noun.entered_at));
    text += sensors::csv_line(row);
  }
  return text;
}

std::vector<PlainNoun> nouns_of_csv(Kind kind, std::string_view text, const std::string& file) {
  const auto parsed = sensors::parse_csv(text, file);
  if (!parsed) throw Refused(parsed.error());
  if (parsed->empty()) throw Refused({"bad-csv", "this table has no first line", "", file, ""});
  const Heads heads = heads_of(parsed->front(), kind, file);
  std::vector<PlainNoun> nouns;
  std::set<std::string> keys;
  for (auto row = parsed->begin() + 1; row != parsed->end(); ++row) {
    nouns.push_back(noun_of(*row, heads, kind, file));
    if (keys.insert(nouns.back().key).second) continue;
    throw Refused({"twice", nouns.back().key + " stands there twice", "",
                   file + ":" + std::to_string(row->line), ""});
  }
  return nouns;
}

std::string data_dictionary() {
  const Meanings all = meanings();
  std::string text =
      sensors::csv_line({"table", "column", "type", "unit", "may_be_empty", "names", "meaning"});
  const auto line = [&](const std::string& table, const std::string& column, const char* type,
                        bool nullable, const std::string& names) {
    text +=
        sensors::csv_line({table, column, type, or_missing(unit_of(column)), nullable ? "1" : "0",
                           or_missing(names), or_missing(meaning_of(all, table, column))});
  };
  for (const Kind kind : kAllKinds) {
    const std::string table(kind_name(kind));
    line(table, kTold, type_text(ColumnType::integer), true, "");
    for (const FieldColumn& column : columns_of(kind)) {
      line(table, std::string(column.field.name), type_text(column.type), column.nullable,
           names_text(column.field));
    }
    line(table, kEnteredAt, type_text(ColumnType::text), false, "");
  }
  return text;
}

}  // namespace takehold::client
