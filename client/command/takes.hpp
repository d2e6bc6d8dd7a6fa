// takes, compare: how many grafts of each pairing live, and which of two pairings lives better.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "client/command/outcome_table.hpp"
#include "client/takes/table.hpp"
#include "client/terminal/style.hpp"

namespace takehold::client {

/// A batch whose grafts count in no rate yet.
struct PendingBatch {
  std::string batch;
  std::string pairing;
  int grafts = 0;
};

/// What rates are made of.
struct TakeRecord {
  std::vector<PairingTally> pairings;
  std::vector<PendingBatch> pending;
};

TakeRecord record_of(const std::vector<OutcomeRow>& outcomes);

struct Context;
/// The table in `file`, or what the book of this run holds when `file` is empty.
TakeRecord take_record(const std::string& file, Context& context);

/// {rows, prior, pending}; a row as in the table of takes.
nlohmann::json takes_json(const TakeRecord& record);
std::string takes_text(const TakeRecord& record, const TerminalStyle& style);

}  // namespace takehold::client
