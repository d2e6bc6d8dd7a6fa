// What given sowings lead to, by simulated seasons.
#pragma once

#include <cstdint>
#include <vector>

#include "client/growth/emergence.hpp"
#include "client/growth/stem.hpp"
#include "client/match/tolerance.hpp"
#include "client/season/chance.hpp"

namespace takehold::client {

/// One lot sown on one day.
struct SimulatedWave {
  int days_to_graft = 0;  ///< from sowing to the planned graft day
  int seeds = 0;
};

/// One side of a pairing. Two sides of one `lot_key` share their lot's luck.
struct SimulatedSide {
  std::uint64_t lot_key = 0;
  Species species = Species::lycopersicum;
  Chance viability{};
  std::vector<SimulatedWave> waves{};
};

struct SimulationRequest {
  SimulatedSide rootstock{};
  SimulatedSide scion{};
  int grafts = 0;  ///< the most made
  int want = 0;
  Tolerance tolerance = Tolerance::percent_of_mean(10);
  int window_days = 2;      ///< grafted on the best day this near to the planned one
  bool size_limits = true;  ///< false: every living seed is a graftable stem
  Chance take{};
  std::uint64_t seed = 1;
  int seasons = 4096;
};

struct SimulationResult {
  double probability = 0;  ///< share of seasons with at least `want` finished
  double standard_error = 0;
  std::vector<int> matched;   ///< pairs on the best day, by season
  std::vector<int> finished;  ///< grafts that took, by season
};

/// Season by season: draw the take rate and both lots' viability, emergence factor and vigour from
/// their beliefs, then every seed; on each day of the window count the pairs that match_stems would
/// make; graft on the best day, at most `grafts`; each takes with the season's rate. This assumes
/// that the grower picks the best day.
///
/// Every draw is keyed by season, lot, wave and seed (or graft), so the same request gives the same
/// result on any machine, and with all else equal more seed never lowers any season's outcome.
SimulationResult simulate(const SimulationRequest& request, const Course& course);

}  // namespace takehold::client
