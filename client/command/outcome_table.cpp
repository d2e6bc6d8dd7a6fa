#include "client/command/outcome_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <optional>

namespace takehold::client {

using sensors::Problem;
using sensors::Refused;

namespace {

using Fields = std::vector<std::string>;

[[noreturn]] void refuse(const std::string& where, std::string title, std::string hint) {
  throw Refused(Problem{"bad-outcomes", std::move(title), "", where, std::move(hint)});
}

std::string trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(" \t\r");
  if (first == std::string_view::npos) return {};
  return std::string(text.substr(first, text.find_last_not_of(" \t\r") - first + 1));
}

Fields split(std::string_view line, const std::string& where) {
  Fields fields;
  std::string field;
  bool quoted = false;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const char c = line[i];
    if (c == '"' && quoted && i + 1 < line.size() && line[i + 1] == '"') {
      field += line[++i];
    } else if (c == '"') {
      quoted = !quoted;
    } else if (c == ',' && !quoted) {
      fields.push_back(trimmed(field));
      field.clear();
    } else {
      field += c;
    }
  }
  if (quoted) refuse(where, "a quotation mark is not closed", "");
  fields.push_back(trimmed(field));
  return fields;
}

/// Where each of the three columns stands.
struct Columns {
  std::size_t pairing, grafted, taken;
};

Columns find_columns(const Fields& header, const std::string& where) {
  const auto column = [&](std::string_view name) {
    const auto found = std::find(header.begin(), header.end(), name);
    if (found == header.end()) {
      refuse(where, fmt::format("the first line does not name the column \"{}\"", name),
             "it reads: pairing,grafted,taken");
    }
    return static_cast<std::size_t>(found - header.begin());
  };
  return {column("pairing"), column("grafted"), column("taken")};
}

int count(const std::string& text, std::string_view column, const std::string& where) {
  int value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || end != text.data() + text.size() || value < 0) {
    refuse(where, fmt::format("{}: \"{}\" is not a count", column, text), "whole numbers from 0");
  }
  return value;
}

OutcomeRow read_row(const Fields& fields, const Columns& columns, const std::string& where) {
  if (fields.size() <= std::max({columns.pairing, columns.grafted, columns.taken})) {
    refuse(where, fmt::format("only {} fields in this line", fields.size()), "");
  }
  OutcomeRow row{fields[columns.pairing], count(fields[columns.grafted], "grafted", where),
                 count(fields[columns.taken], "taken", where)};
  if (row.pairing.empty()) refuse(where, "the pairing is left empty", "");
  if (row.taken > row.grafted) {
    refuse(where, fmt::format("{} taken of {} grafted", row.taken, row.grafted),
           "no more can take than were grafted");
  }
  return row;
}

void add(std::vector<OutcomeRow>& rows, OutcomeRow row) {
  const auto same = std::find_if(rows.begin(), rows.end(),
                                 [&](const OutcomeRow& r) { return r.pairing == row.pairing; });
  if (same == rows.end()) {
    rows.push_back(std::move(row));
    return;
  }
  same->grafted += row.grafted;
  same->taken += row.taken;
}

}  // namespace

std::vector<OutcomeRow> read_outcomes(std::string_view text, const std::string& file) {
  constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";
  if (text.starts_with(kByteOrderMark)) text.remove_prefix(kByteOrderMark.size());
  std::vector<OutcomeRow> rows;
  std::optional<Columns> columns;
  for (int number = 1; !text.empty(); ++number) {
    const auto end = text.find('\n');
    const auto line = trimmed(text.substr(0, end));
    text = end == std::string_view::npos ? std::string_view{} : text.substr(end + 1);
    if (line.empty() || line.front() == '#') continue;
    const std::string where = fmt::format("{}:{}", file, number);
    if (!columns) {
      columns = find_columns(split(line, where), where);
    } else {
      add(rows, read_row(split(line, where), *columns, where));
    }
  }
  if (!columns) refuse(file, "the file holds no table", "it starts: pairing,grafted,taken");
  return rows;
}

}  // namespace takehold::client
