// The book's nouns as tables for a spreadsheet, one CSV a kind, and back.
//
// The first line names the columns: `told` (the rank of the record among all), the noun's own
// fields, `entered_at`. Read back, `told` may be left out or empty, `entered_at` does not count,
// and further columns do no harm.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "client/book/book.hpp"
#include "client/book/plain_noun.hpp"

namespace takehold::client {

/// Those of `nouns` that are of this kind, in their order; `told` is their place in `nouns`.
std::string csv_of(Kind kind, std::span<const PlainNoun> nouns);

/// Throws Refused with `where` as file:line: "bad-csv", "missing-column", "bad-value", "bad-key",
/// "twice".
std::vector<PlainNoun> nouns_of_csv(Kind kind, std::string_view text, const std::string& file);

/// What every column of every table holds: table, column, type, unit, may_be_empty, names, meaning.
std::string data_dictionary();

}  // namespace takehold::client
