// One trial: half a day of one chamber that nobody has seen before, with at most one failure.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "plant.hpp"

namespace takehold::bench {

enum class Failure {
  none,
  water_out,
  door_ajar,
  slow_leak,
  heater_dead,
  heater_stuck,
  humidifier_stuck,
  silent,
  stuck,
  wet,
  jumping,
  disagrees,
};
const char* to_string(Failure failure);
bool is_of_probe(Failure failure);

enum class Maker { one_pot, two_layers, saw_teeth, fogged };
const char* to_string(Maker maker);

/// The band, and where the grower's set points lie in it.
struct Asked {
  const char* name;
  Range degc, pct;      ///< the band
  Range set_pct, play;  ///< of the humidifier
};

struct Round {
  int second;  ///< since the trace began
  Spot said[2];
  bool spoke[2];
  Spot truth;  ///< mean of both places
};

struct Span {
  int from, to;
};

struct Trial {
  Maker maker;
  Asked asked;
  Failure failure = Failure::none;
  int onset = 0;
  int probe = 0;  ///< of a probe's failure
  std::vector<Span> openings, sprays;
  std::vector<Round> rounds;

  // What truly happened, of failures of the air; -1: it did not.
  int departure = -1;  ///< the quantity that breaches leaves its usual range
  int breach = -1;
};

inline constexpr int kEvery = 10;           // seconds between rounds
inline constexpr int kLength = 12 * 3600;   // of a trial
inline constexpr int kSettling = 3 * 3600;  // before it

/// Drawn anew until the ordinary air stays in its band and the failure shows (but for a humidifier
/// that sticks where 100 % is allowed).
Trial make_trial(std::uint64_t seed, Maker maker, const Asked& asked, Failure failure);

}  // namespace takehold::bench
