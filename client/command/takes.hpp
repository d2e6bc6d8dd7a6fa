// takes, compare: how many grafts of each pairing (or method, month ...) live, and which of two
// lives better.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "client/command/outcome_table.hpp"
#include "client/takes/graft_fate.hpp"
#include "client/terminal/style.hpp"

namespace CLI {
class App;
}

namespace takehold::client {

/// A batch whose grafts count in no rate yet.
struct PendingBatch {
  std::string batch;
  std::string pairing;
  int grafts = 0;
};

/// What rates are made of.
struct TakeRecord {
  GroupBy by = GroupBy::pairing;
  std::vector<PairingTally> pairings;  ///< or whatever they are gathered by
  std::vector<PendingBatch> pending;
};

TakeRecord record_of(const std::vector<OutcomeRow>& outcomes);

struct Context;

/// Where rates come from, as typed: the table in `file`, or the book of this run gathered by `by`.
struct TakeSource {
  std::string file{};  ///< empty: the book
  std::string by = "pairing";
};
/// Wrong usage "unknown-word" for another word, "not-with-a-table" for --by with --from: a table
/// knows its first column only.
TakeRecord take_record(const TakeSource& source, Context& context);
/// --from and --by.
void add_take_source(CLI::App& app, TakeSource& source);

/// {by, rows, prior, pending}; a row has `group`, and as `pairing` the same when gathered by
/// pairing, else null.
nlohmann::json takes_json(const TakeRecord& record);
std::string takes_text(const TakeRecord& record, const TerminalStyle& style);

}  // namespace takehold::client
