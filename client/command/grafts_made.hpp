// Grafts of a pairing made this season, and how far they fulfil its plan.
#pragma once

#include "client/book/book.hpp"
#include "client/plan/season_plan.hpp"
#include "client/season/batch.hpp"
#include "client/season/planned.hpp"

namespace takehold::client {

GraftsMade made_of(const Book& book, const Pairing& pairing);
GraftsMade made_in(const Book& book, const std::vector<Batch>& batches);

/// Batches told to the book since this version of the plan's line, no earlier than a week before
/// its day: what was made before is counted in the plan already.
std::vector<Batch> batches_since(const Book& book, const Recorded<PlannedGraft>& line);

}  // namespace takehold::client
