// One noun out of three tellings: the last sheet, the book, the new sheet. Pure. Only for
// load_season.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "client/book/load_season.hpp"

namespace takehold::client {

/// A field that sheet and book changed to different values.
struct Clash {
  std::string field;
  nlohmann::json was;
  nlohmann::json book;
  nlohmann::json sheet;
};

struct Merged {
  nlohmann::json fields;       ///< the book's, with what the sheet changed
  std::vector<Clash> clashes;  ///< with a winner they are settled, and this is empty
};

/// `last` is the last sheet's telling, or the noun's defaults if it had none. Fields of `book` that
/// `sheet` does not have are kept.
Merged merge(const nlohmann::json& last, const nlohmann::json& book, const nlohmann::json& sheet,
             MergeWinner winner);

/// "want: sheet 8, book 7, before 6"
std::string to_text(const Clash& clash);

/// {field: {"was", "now"}} for each that differs.
nlohmann::json differences(const nlohmann::json& was, const nlohmann::json& now);

}  // namespace takehold::client
