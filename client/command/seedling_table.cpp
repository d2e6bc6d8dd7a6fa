#include "client/command/seedling_table.hpp"

#include <algorithm>
#include <charconv>

#include "client/season/stem_text.hpp"
#include "sensors/codec/csv.hpp"

namespace takehold::client {

namespace {

using sensors::CsvRow;

class NamedTable {
 public:
  NamedTable(std::string_view text, std::string file) : file_(std::move(file)) {
    auto rows = sensors::parse_csv(text, file_);
    if (!rows) throw sensors::Refused(rows.error());
    if (rows->empty()) refuse("bad-table", "this table is empty", file_);
    head_ = rows->front();
    rows_.assign(rows->begin() + 1, rows->end());
  }

  const std::vector<CsvRow>& rows() const { return rows_; }
  std::string where(const CsvRow& row) const { return file_ + ":" + std::to_string(row.line); }

  /// A field that must be there and hold something.
  std::string need(const CsvRow& row, const std::string& column) const {
    const auto at = place_of(column);
    if (!at) refuse("bad-table", "the first line does not name the column " + column, where(head_));
    const std::string text = at_or_empty(row, *at);
    if (text.empty()) refuse("bad-table", "the column " + column + " is empty", where(row));
    return text;
  }
  std::string field(const CsvRow& row, const std::string& column) const {
    const auto at = place_of(column);
    return at ? at_or_empty(row, *at) : "";
  }

 private:
  std::optional<std::size_t> place_of(const std::string& column) const {
    const auto found = std::find(head_.fields.begin(), head_.fields.end(), column);
    if (found == head_.fields.end()) return std::nullopt;
    return static_cast<std::size_t>(found - head_.fields.begin());
  }
  static std::string at_or_empty(const CsvRow& row, std::size_t at) {
    return at < row.fields.size() ? row.fields[at].value_or("") : "";
  }

  std::string file_;
  CsvRow head_{};
  std::vector<CsvRow> rows_{};
};

int whole_number(const std::string& text, const std::string& where) {
  int number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (error != std::errc() || end != text.data() + text.size()) {
    refuse("bad-count", "\"" + text + "\" is no whole number", where);
  }
  return number;
}

}  // namespace

StemTable stem_table(std::string_view text, const std::string& file) {
  const NamedTable rows(text, file);
  StemTable table;
  for (const CsvRow& row : rows.rows()) {
    const std::string sowing = rows.need(row, "sowing");
    const std::string diameter = rows.need(row, "diameter_mm");
    if (const auto stem = parse_stem(diameter); !stem) {
      auto problem = stem.error();
      problem.where = rows.where(row);
      throw sensors::Refused(std::move(problem));
    }
    auto group = std::find_if(table.groups.begin(), table.groups.end(),
                              [&](const StemTable::Group& g) { return g.sowing == sowing; });
    if (group == table.groups.end()) {
      group = table.groups.insert(group, {sowing, "", rows.where(row)});
    }
    if (!group->stems.empty()) group->stems += ' ';
    if (const auto number = rows.field(row, "number"); !number.empty()) {
      group->stems += std::to_string(whole_number(number, rows.where(row))) + "=";
    }
    group->stems += diameter;
  }
  if (table.groups.empty()) refuse("bad-table", "no stem stands in this table", file);
  return table;
}

std::vector<CountRow> count_table(std::string_view text, const std::string& file) {
  const NamedTable rows(text, file);
  std::vector<CountRow> counts;
  for (const CsvRow& row : rows.rows()) {
    const std::string where = rows.where(row);
    const std::string sowing = rows.need(row, "sowing");
    const bool twice = std::any_of(counts.begin(), counts.end(),
                                   [&](const CountRow& c) { return c.sowing == sowing; });
    if (twice) refuse("twice", sowing + " is counted twice", where);
    counts.push_back({sowing, whole_number(rows.need(row, "standing"), where), where});
  }
  if (counts.empty()) refuse("bad-table", "no count stands in this table", file);
  return counts;
}

}  // namespace takehold::client
