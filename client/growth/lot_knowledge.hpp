// What a plan may believe of each lot of a variety, and on how much of the grower's record that
// rests.
//
// Germination tests and counts are facts of a lot and hold as long as it does. Speeds keep half
// their weight a year: they speak of the very lot while seed of it is left, and by their variety's
// part of every other.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "client/growth/lot_posterior.hpp"

namespace takehold::client {

/// Sowings of one lot in one season.
struct SeasonSeen {
  int years_ago = 0;  ///< 0: the season that is planned
  std::vector<SowingSeen> sowings{};
};

struct LotHistory {
  std::string lot{};
  Chance viability{};                 ///< by origin, age and germination tests
  std::vector<SeasonSeen> seasons{};  ///< the oldest first
};

/// Of how many seeds or seedlings a number is the grower's own record.
struct OwnRecord {
  int of_lot = 0;     ///< of this very lot
  int of_others = 0;  ///< of other lots of the variety
  bool is_assumed() const { return of_lot + of_others == 0; }
};

struct LotKnowledge {
  Chance viability{};        ///< all counts in it
  LogBelief ln_emergence{};  ///< before this season's sowings
  LogBelief ln_vigour{};
  /// After this season's sowings, viability and speed together; null: none was counted or measured.
  std::shared_ptr<const LotPosterior> posterior{};
  OwnRecord counted{};   ///< seeds sown and counted: emergence, and of the lot itself viability
  OwnRecord measured{};  ///< seedlings with a calliper reading: vigour
};

/// With nothing but `viability` of its own.
LotKnowledge assumed_of(Species species, Chance viability);
/// Of each lot, in their order; all are of one variety. A lot never sown learns from the others.
std::vector<LotKnowledge> known_of(Species species, const std::vector<LotHistory>& lots);

/// What was seen longer ago weighs less than a fiftieth, and is left out.
inline constexpr int kYearsRemembered = 5;

}  // namespace takehold::client
