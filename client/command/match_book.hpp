// match P: the stems of pairings as last measured, and what is to be joined of them.
#pragma once

#include <functional>
#include <optional>
#include <string>

#include "client/book/book.hpp"
#include "client/command/match.hpp"
#include "client/season/pairing.hpp"

namespace takehold::client {

/// A measurement older than this is no longer what stands on the bench: stems thicken daily.
inline constexpr std::chrono::hours kFreshMeasurement{24};

/// What `match P1 P2` is asked.
struct MatchQuestion {
  std::vector<Pairing> pairings{};
  Tolerance tolerance;
  bool share = false;  ///< several at once: none gets more than it wants, the heavier first
};

/// The answer, and the oldest of the measurements it rests on.
struct BookMatch {
  StemMatch match{};
  std::optional<sensors::Instant> oldest{};
};

/// The last full measurement of every sowing that may serve, without the seedlings already grafted.
/// Pairings on one rootstock share its stems; scions that serve two rootstocks go where they weigh
/// more first. Refuses "not-measured", naming the variety, where a side has no stem.
BookMatch match_in_book(const Book& book, const MatchQuestion& question, sensors::Instant now);

/// Pairings that have measured stems on both sides.
std::vector<Pairing> measured_pairings(const Book& book);

/// The season's limit: so many percent of a pair's mean diameter.
Tolerance season_tolerance(const Book& book);

}  // namespace takehold::client
