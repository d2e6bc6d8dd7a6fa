// A plan the grower agrees to, into the book: what `today` reminds of from then on.
#pragma once

#include <string_view>

#include "client/book/book.hpp"
#include "client/plan/season_plan.hpp"

namespace takehold::client {

struct Accepted {
  std::optional<CommandId> command{};  ///< none if the book had this very plan
  int sowings = 0;                     ///< lines that now stand, done ones not counted
  int grafts = 0;
  int without_seed = 0;  ///< lines left out: their seed is not in the book yet
};

/// Replaces what is planned and not yet done. A line for the same lot and purpose keeps its number,
/// so that calendars know it again. One command, one undo.
Accepted accept_plan(Book& book, const SeasonPlan& plan, std::string_view words,
                     sensors::Instant now);

}  // namespace takehold::client
