// The warmth of the benches: what their probes logged, fetched from the chamber's program and kept.
#pragma once

#include <string>
#include <vector>

#include "client/book/book.hpp"
#include "client/command/context.hpp"
#include "client/growth/lived_warmth.hpp"
#include "client/link/link.hpp"

namespace takehold::client {

/// What came of asking for one bench.
struct BenchFetched {
  std::string bench{};
  std::vector<std::string> probes{};  ///< whose place is the bench's name
  int hours = 0;                      ///< with a mean, kept now
};

/// Asks for the hourly means of every probe that stands on a bench of the book: from a day before
/// the newest kept hour on (readings may come late), at first from the oldest sowing's day, until
/// the last full hour. Several probes of a bench: their mean. Codes as Link.
sensors::Result<std::vector<BenchFetched>> fetch_bench_hours(Book& book, const Link& link,
                                                             sensors::Instant now);

/// The same at the start of a command that reckons with the warmth. A daemon that does not answer
/// is a note where hours were kept before, else nothing: most growers have no probe there.
void fetch_bench_hours(Context& context, Book& book);

/// How much of the past warmth was logged by probes, over all trays.
struct WarmthKnown {
  int past_hours = 0, logged_hours = 0, missing_hours = 0;

  void add(const LivedWarmth& lived);
};

/// Says where the sheet's temperatures stand in for a probe's: all along, or in gaps.
void note_warmth(const WarmthKnown& warmth, Context& context);

}  // namespace takehold::client
