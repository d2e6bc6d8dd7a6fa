// Comma-separated values as RFC 4180 (Shafranovich 2005) has them, with one thing more: an empty
// field without quotation marks is missing, one with them ("") is an empty text.
//
// Pure: text in, rows out. Lines end in LF or CR LF; a field in quotation marks may hold commas,
// ends of lines, and quotation marks written twice. A byte order mark at the beginning, which
// spreadsheets write, does not count.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "sensors/quantity/problem.hpp"

namespace takehold::sensors {

using CsvField = std::optional<std::string>;

struct CsvRow {
  int line = 0;  ///< on which it begins, from 1
  std::vector<CsvField> fields;
};

/// Blank lines are left out. Code "bad-csv", `where` the line as "file:7": a quotation mark that is
/// not closed, or one in the middle of a field.
Result<std::vector<CsvRow>> parse_csv(std::string_view text, std::string_view file);

/// One row, ended by CR LF. Quotation marks only where they are needed.
std::string csv_line(const std::vector<CsvField>& fields);

}  // namespace takehold::sensors
