// The book's outcomes as take rates are made of them.
#pragma once

#include "client/book/book.hpp"
#include "client/command/takes.hpp"

namespace takehold::client {

/// Finished batches added up by pairing, in the order of the pairings; what was thrown out before
/// its fate was known counts nowhere. Batches not finished, and those finished early, stand apart
/// as pending.
TakeRecord takes_of(const Book& book);

}  // namespace takehold::client
