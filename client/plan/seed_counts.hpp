// How many seeds of either side.
#pragma once

#include <algorithm>
#include <compare>

namespace takehold::client {

/// Seeds to sow on either side, beyond what is sown already.
struct SeedCounts {
  int rootstock = 0;
  int scion = 0;
  friend auto operator<=>(const SeedCounts&, const SeedCounts&) = default;
};

/// All counts from the least to the most of either side, both in.
struct CountWindow {
  static constexpr int kWidest = 126;  ///< most less least, of a window matched at once

  SeedCounts least{};
  SeedCounts most{};

  bool holds(SeedCounts counts) const {
    return counts.rootstock >= least.rootstock && counts.rootstock <= most.rootstock &&
           counts.scion >= least.scion && counts.scion <= most.scion;
  }
  /// Down to none, or as far below `most` as a window goes.
  static CountWindow up_to(SeedCounts most) {
    return {{std::max(0, most.rootstock - kWidest), std::max(0, most.scion - kWidest)}, most};
  }
};

}  // namespace takehold::client
