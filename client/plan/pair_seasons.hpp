// One pairing's simulated seasons: how many pairs its seed makes on the best day.
#pragma once

#include <map>
#include <span>
#include <utility>
#include <vector>

#include "client/plan/draw_store.hpp"
#include "client/plan/match_counter.hpp"

namespace takehold::client {

/// Seeds to sow on either side, beyond what is sown already.
struct SeedCounts {
  int rootstock = 0;
  int scion = 0;
  friend auto operator<=>(const SeedCounts&, const SeedCounts&) = default;
};

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

  /// The spread is kept: asking again costs nothing.
  const PairSpread& spread(SeedCounts counts);
  /// Pairs season by season.
  std::vector<std::uint16_t> pairs(SeedCounts counts);

  /// That no more seed is likely to be asked for: saves drawing twice.
  void expect(SeedCounts counts);

  int seasons() const { return store_->seasons(); }
  std::size_t evaluated() const { return spreads_.size(); }

 private:
  struct Side {
    SidePlan plan;
    int capacity = -1;               // seeds to sow that `stems` hold
    std::vector<SideStems> stems{};  // one, or none yet
  };
  void grow(Side& side, int seeds);
  int best_of(int season, const PartCounts& rootstock, const PartCounts& scion);

  Side rootstock_;
  Side scion_;
  std::vector<int> shifts_;
  const MatchCounter* counter_;
  DrawStore* store_;
  Perfect perfect_;
  std::map<SeedCounts, PairSpread> spreads_;
  std::vector<std::uint16_t> below_, above_;
};

}  // namespace takehold::client
