// What is assumed of a lot's speed before anything was counted or measured.
#pragma once

#include <cmath>

#include "client/growth/carried_speed.hpp"
#include "client/growth/emergence.hpp"
#include "client/growth/stem.hpp"

namespace takehold::client {

/// Of ln e.
inline LogBelief assumed_emergence(Species species) {
  const EmergenceBelief belief = emergence_prior(species);
  return {std::log(belief.multiplier), belief.multiplier_sd};
}

/// Of ln v.
inline LogBelief assumed_vigour() {
  return {0, kVigourSd};
}

}  // namespace takehold::client
