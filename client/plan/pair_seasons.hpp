// One pairing's simulated seasons: how many pairs its seed makes on the best day.
#pragma once

#include <algorithm>
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
  /// Pairs season by season. Kept.
  const std::vector<std::uint16_t>& pairs(SeedCounts counts);
  /// More pairs than this need not be told apart: they are counted as so many. Before any question.
  void count_up_to(int most) { most_ = static_cast<std::uint16_t>(std::min(most, kMostPairs)); }

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
  // What is known of a season's pairs before they are counted.
  struct Bounds {
    std::vector<std::uint16_t> low, high;
  };
  static constexpr int kMostPairs = 0xFFFF;

  void grow(Side& side, int seeds);
  Bounds bounds(SeedCounts counts) const;
  std::uint16_t best_of(int season, const PartCounts& rootstock, const PartCounts& scion,
                        std::uint16_t low, std::uint16_t high);
  int pairs_on(int season, std::size_t day, const PartCounts& rootstock, const PartCounts& scion,
               int more_than);

  Side rootstock_;
  Side scion_;
  std::vector<int> shifts_;
  const MatchCounter* counter_;
  DrawStore* store_;
  Perfect perfect_;
  std::uint16_t most_ = kMostPairs;
  std::map<SeedCounts, PairSpread> spreads_;
  std::map<SeedCounts, std::vector<std::uint16_t>> pairs_;
  std::vector<std::uint8_t> best_day_;  // by season: where the last count found most
  std::vector<std::uint16_t> below_, above_;
};

}  // namespace takehold::client
