// What can be wrong with a probe, and what was found to be.
#pragma once

#include <string>
#include <vector>

#include "sensors/quantity/calendar.hpp"

namespace takehold::sensors {

/// Faults that the readings themselves show. Silence is none of them: it shows in time passing
/// without a reading, which is watched where time is.
enum class ProbeFault {
  range,      ///< tells what neither air nor probe can be
  jumping,    ///< leaps about as no air does
  wet,        ///< stands at 100 % while the air moves: a drop on it
  stuck,      ///< repeats itself while another probe moves
  disagrees,  ///< differs from the others of its place for long
};

constexpr const char* to_string(ProbeFault fault) {
  switch (fault) {
    case ProbeFault::range:
      return "range";
    case ProbeFault::jumping:
      return "jumping";
    case ProbeFault::wet:
      return "wet";
    case ProbeFault::stuck:
      return "stuck";
    case ProbeFault::disagrees:
      return "disagrees";
  }
  return "range";
}

/// A fault that stands. While it does, the probe's readings are suspect.
struct Finding {
  ProbeFault fault;
  Instant since;                     ///< when it was found
  std::string reason;                ///< for people, to follow the probe's name: "has said ..."
  std::vector<std::string> against;  ///< of disagrees: the probes it differs from
};

}  // namespace takehold::sensors
