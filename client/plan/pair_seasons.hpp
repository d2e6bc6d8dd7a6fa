// One pairing's simulated seasons: how many pairs its seed makes on the best day.
#pragma once

#include <map>
#include <optional>
#include <vector>

#include "client/plan/draw_store.hpp"
#include "client/plan/match_counter.hpp"
#include "client/plan/nested_seasons.hpp"
#include "client/plan/seed_counts.hpp"

namespace takehold::client {

/// Share of the seasons with exactly k pairs, at k.
using PairSpread = std::vector<double>;

/// Seasons are drawn by key, so counts with more seed see the same seeds and more: with days fixed,
/// no season's pairs ever fall when seed is added.
class PairSeasons {
 public:
  /// `shifts`: the days around the planned graft day on which the grower may graft; the best of
  /// them is taken. `counter` and `store` outlive this.
  PairSeasons(SidePlan rootstock, SidePlan scion, std::vector<int> shifts,
              const MatchCounter& counter, DrawStore& store, Perfect perfect = {});

  /// Matches all counts of a window at once: for some hundred times the price of a look-up there,
  /// and of few counts by themselves.
  void match_within(const CountWindow& window);
  /// Counts with another one from now on.
  void count_with(const MatchCounter& counter);
  /// The spread is kept: asking again costs nothing.
  const PairSpread& spread(SeedCounts counts);
  /// Pairs season by season.
  std::vector<std::uint16_t> pairs(SeedCounts counts);

  int seasons() const { return store_->seasons(); }

 private:
  struct Side {
    SidePlan plan;
    int capacity = -1;               // seeds to sow that `stems` hold
    std::vector<SideStems> stems{};  // one, or none yet
  };

  void grow(Side& side, int seeds);
  int best_by_itself(int season, const PartCounts& rootstock, const PartCounts& scion);

  Side rootstock_;
  Side scion_;
  std::vector<int> shifts_;
  const MatchCounter* counter_;
  DrawStore* store_;
  Perfect perfect_;
  std::optional<NestedSeasons> nested_{};
  std::map<SeedCounts, PairSpread> spreads_{};
  std::vector<std::uint16_t> below_{}, above_{};
};

}  // namespace takehold::client
