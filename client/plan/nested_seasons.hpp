// Pairs on the best day of every season, for all counts of a window.
#pragma once

#include <cstdint>
#include <vector>

#include "client/plan/nested_matching.hpp"
#include "client/plan/seed_counts.hpp"

namespace takehold::client {

/// What a look-up of any counts in the window needs, in some forty bytes a season and day. The
/// matchings' counts are seeds more than the window's least.
class NestedSeasons {
 public:
  NestedSeasons(const CountWindow& window, std::size_t days) : window_(window), days_(days) {}

  const CountWindow& window() const { return window_; }
  /// The next day's, season by season.
  void add(const NestedMatching& matching);
  /// `counts` is in the window; all days of the season were added.
  int best_of(int season, SeedCounts counts) const;

 private:
  // Eight entries: a byte each, the high bits clear.
  struct Entries {
    std::uint64_t rootstocks, scions;
  };
  struct Day {
    std::uint32_t begin;
    std::uint16_t always, entries;
  };

  CountWindow window_;
  std::size_t days_;
  std::vector<Day> matched_{};  // by season and day
  std::vector<Entries> entries_{};
};

}  // namespace takehold::client
