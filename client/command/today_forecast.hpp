// The lines of `today` about grafts that come near: what the stems say of their day.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "client/book/book.hpp"
#include "client/command/context.hpp"

namespace takehold::client {

/// A line for each of the next pairings to be grafted (the first three within two weeks, whose
/// seedlings were counted): best day, range, against the plan, pairs. Gives the same as a list of
/// {pairing, graft_on{p10,p50,p90}, planned_on, moved_days, matched_pairs}. Few seasons, no advice:
/// `forecast` tells more. The daemon is not asked.
nlohmann::json show_forecast(Context& context, const Book& book);

}  // namespace takehold::client
