// Which ages of rootstock and scion are worth comparing.
#pragma once

#include <cmath>
#include <vector>

#include "client/plan/side_plan.hpp"

namespace takehold::client {

/// One side of the question how old the plants shall be.
struct AgeSide {
  SidePlan plan{};          ///< one part, whose days_to_graft is sought; or fixed parts
  int seeds = 0;            ///< to sow of it
  std::vector<int> ages{};  ///< whole days the part may be old; empty: the parts are fixed
};

/// An age, and how thick the lot's middle seedling is then. Of fixed parts: 0 days more.
struct MiddleSeedling {
  int age;
  double ln_mm;
};

struct AgePair {
  MiddleSeedling rootstock;
  MiddleSeedling scion;
  double apart() const { return std::abs(rootstock.ln_mm - scion.ln_mm); }
};

/// All whose middle seedlings come near a graftable size, and near each other.
std::vector<AgePair> ages_worth_trying(const AgeSide& rootstock, const AgeSide& scion);

}  // namespace takehold::client
