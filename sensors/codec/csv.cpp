#include "sensors/codec/csv.hpp"

#include <algorithm>

namespace takehold::sensors {
namespace {

constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";

/// Reads one row after the other from the front of a text.
class CsvReader {
 public:
  CsvReader(std::string_view text, std::string_view file) : left_(text), file_(file) {
    if (left_.starts_with(kByteOrderMark)) left_.remove_prefix(kByteOrderMark.size());
  }

  bool at_end() const { return left_.empty(); }

  Result<CsvRow> row() {
    CsvRow row;
    row.line = line_;
    do {
      auto field = this->field();
      if (!field) return field.error();
      row.fields.push_back(*std::move(field));
    } while (take(','));
    take('\r');
    if (!at_end() && !take('\n'))
      return problem("a quotation mark stands in the middle of a field");
    ++line_;
    return row;
  }

 private:
  bool take(char wanted) {
    if (left_.empty() || left_.front() != wanted) return false;
    left_.remove_prefix(1);
    return true;
  }

  Result<CsvField> field() {
    if (take('"')) return quoted();
    const auto end = std::min(left_.find_first_of(",\"\n"), left_.size());
    auto text = left_.substr(0, end);
    left_.remove_prefix(end);
    if (text.ends_with('\r') && (at_end() || left_.front() == '\n')) text.remove_suffix(1);
    return text.empty() ? CsvField() : CsvField(std::string(text));
  }

  Result<CsvField> quoted() {
    const int begun = line_;
    std::string text;
    while (!at_end()) {
      const char c = left_.front();
      left_.remove_prefix(1);
      if (c == '"' && !take('"')) return CsvField(std::move(text));
      if (c == '\n') ++line_;
      text += c;
    }
    line_ = begun;
    return problem("a quotation mark is not closed");
  }

  Problem problem(const char* title) const {
    return {"bad-csv", title, "", std::string(file_) + ":" + std::to_string(line_), ""};
  }

  std::string_view left_;
  std::string_view file_;
  int line_ = 1;
};

bool is_blank(const CsvRow& row) {
  return row.fields.size() == 1 && !row.fields.front();
}

}  // namespace

Result<std::vector<CsvRow>> parse_csv(std::string_view text, std::string_view file) {
  std::vector<CsvRow> rows;
  CsvReader reader(text, file);
  while (!reader.at_end()) {
    auto row = reader.row();
    if (!row) return row.error();
    if (!is_blank(*row)) rows.push_back(*std::move(row));
  }
  return rows;
}

std::string csv_line(const std::vector<CsvField>& fields) {
  std::string line;
  for (const CsvField& field : fields) {
    if (&field != &fields.front()) line += ',';
    if (!field) continue;
    const bool plain = !field->empty() && field->find_first_of(",\"\r\n") == std::string::npos &&
                       field->front() != ' ' && field->back() != ' ';
    if (plain) {
      line += *field;
      continue;
    }
    line += '"';
    for (const char c : *field) line += c == '"' ? std::string("\"\"") : std::string(1, c);
    line += '"';
  }
  return line + "\r\n";
}

}  // namespace takehold::sensors
