// What became of every batch in the book, in one reading of its tables.
#pragma once

#include <vector>

#include "client/book/book.hpp"
#include "client/command/takes.hpp"
#include "client/takes/graft_fate.hpp"

namespace takehold::client {

/// All batches in the order grafted into the book, with the hours they were dark by their healing
/// plan and those they spent outside their bands in the first three days, where the chamber saw
/// them for at least half of that time.
std::vector<BatchFate> batch_fates(const Book& book);

/// Grafts whose fate is known by `by`; batches not finished, and those finished before day 6, stand
/// apart as pending.
TakeRecord takes_of(const Book& book, GroupBy by = GroupBy::pairing);

}  // namespace takehold::client
