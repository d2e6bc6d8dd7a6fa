// What was seen of a seed lot this season: how many came up when, and how thick the stems were.
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "client/growth/carried_speed.hpp"
#include "client/growth/warmth.hpp"
#include "client/season/chance.hpp"
#include "client/season/words.hpp"
#include "sensors/quantity/length.hpp"

namespace takehold::client {

/// Plants that had come up by an age, in all: those that died or were taken out since count too.
struct CountSeen {
  Age at{};
  int up = 0;
};

/// One reading of the calliper below the seed leaves.
struct StemSeen {
  Age at{};
  sensors::Millimetres diameter = sensors::Millimetres::mm(0);
};

/// One seedling with all its readings, by rising age.
struct SeedlingSeen {
  int number = 0;  ///< 5 of "S12-5"
  std::vector<StemSeen> readings{};
};

/// One sowing of the lot. Ages count from its own hour of sowing, where its course starts.
struct SowingSeen {
  std::shared_ptr<const Course> course{};  ///< never null; long enough for every age below
  int seeds = 0;
  std::vector<CountSeen> counts{};  ///< by rising age, `up` never falling, at most `seeds`
  std::vector<SeedlingSeen> seedlings{};
};

/// One lot. Its viability and speed are the same in all its sowings.
struct LotSeen {
  Species species = Species::lycopersicum;
  Chance viability{};  ///< before this season: origin, age and germination tests
  std::vector<SowingSeen> sowings{};
  /// Of ln e and ln v before this season; nothing: the assumed prior of its species.
  std::optional<LogBelief> ln_emergence{}, ln_vigour{};
};

}  // namespace takehold::client
