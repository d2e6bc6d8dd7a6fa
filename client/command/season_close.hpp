// A season that is over: nothing more is recorded in it.
#pragma once

#include "client/book/book.hpp"
#include "client/command/recording.hpp"
#include "client/season/season.hpp"

namespace takehold::client {

/// Closes the season that the book holds: the plan's lines that were never done are dropped with
/// it, as one command. Refuses "no-season", "season-closed", and "not-finished" naming the batches
/// of which nobody said how many took.
SeasonClose close_season(const Telling& telling);

}  // namespace takehold::client
