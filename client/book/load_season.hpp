// A season sheet into the book: a three-way merge with the sheet loaded before.
//
// For each field: changed only in the sheet: the sheet's; only in the book (by `edit`): the book's;
// in both, and differently: the whole load is refused with both values, unless told who wins.
// Nothing is deleted but a pairing that the last sheet had, this one has not, and nothing names.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "client/book/book.hpp"
#include "client/season/sheet.hpp"

namespace takehold::client {

enum class MergeWinner { nobody, sheet, book };

/// One noun that a load came across.
struct LoadedNoun {
  Kind kind{};
  std::string name{};       ///< as the sheet knows it: "QP-24", "Quarry Pink/Ironfoot"
  nlohmann::json fields{};  ///< changed: {field: {"was", "now"}}; otherwise all of them
  bool dropped = false;     ///< a missing pairing that nothing named
};

struct LoadReport {
  std::optional<CommandId> command{};  ///< none if nothing changed
  std::vector<LoadedNoun> added{};
  std::vector<LoadedNoun> changed{};
  std::vector<LoadedNoun> unchanged{};
  std::vector<LoadedNoun> missing{};  ///< in the book, not in the sheet
};

/// One transaction and one undo. A book without any record yet takes over the sheet's time zone.
/// Throws Refused "changed-twice", "season-closed" and Recorder's.
LoadReport load_season(Book& book, const Sheet& sheet, std::string_view words, sensors::Instant now,
                       MergeWinner winner = MergeWinner::nobody);

/// The book's nouns as a sheet, for `season write`. Throws Refused "no-season".
Sheet season_of(const Book& book);

}  // namespace takehold::client
