// match P: the stems of a pairing as last measured.
#pragma once

#include <optional>
#include <string>

#include "client/book/book.hpp"
#include "client/command/match.hpp"
#include "client/season/pairing.hpp"

namespace takehold::client {

/// A measurement older than this is no longer what stands on the bench: stems thicken daily.
inline constexpr std::chrono::hours kFreshMeasurement{24};

/// Both sides of a pairing as the book last saw them.
struct MeasuredPairing {
  StemSide rootstocks;
  StemSide scions;
  std::optional<sensors::Instant> oldest;  ///< of the measurements used; none where there is none
};

/// The last full measurement of every sowing that may serve, without the seedlings already
/// grafted. Refuses "not-measured", naming the variety, where a side has no stem.
MeasuredPairing measured_stems(const Book& book, const Pairing& pairing);

/// The season's limit: so many percent of a pair's mean diameter.
Tolerance season_tolerance(const Book& book);

}  // namespace takehold::client
