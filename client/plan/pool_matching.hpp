// How many of its pairs each pairing gets when several share one lot's stems.
#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "client/plan/match_counter.hpp"

namespace takehold::client {

/// The most pairings in one pool: the work doubles with each.
inline constexpr std::size_t kMostInPool = 6;

/// A scion of the pool, and whose it is: a place among the members.
struct PoolScion {
  std::uint16_t um = 0;
  std::uint16_t member = 0;
  friend bool operator<(PoolScion a, PoolScion b) { return a.um < b.um; }
};

/// The most grafts a pairing makes, and how much they matter.
struct PoolMember {
  int most = 0;
  double weight = 1;
};

/// Pairs for each member so that the sum of weight times pairs is greatest, each at most its
/// `most`. Members of one weight are first all brought to half of their `most` as far as can be,
/// then to three quarters, then to all of it; within a round those that come first from place
/// `first` on (and round): whoever asks for many seasons turns it, so that none is favoured.
///
/// What sets of pairs can be had at once is a polymatroid (scions joined to common rootstocks): m
/// is possible when no set S of members has more than all_pairs(S) together. So serving by falling
/// weight, each as well as can be, is best, and within a weight every order reaches the same sum.
class PoolMatching {
 public:
  explicit PoolMatching(const MatchCounter& counter) : counter_(counter) {}

  /// One day's stems, both thinnest first, for the questions below.
  void take(std::span<const std::uint16_t> rootstocks, std::span<const PoolScion> scions,
            std::span<const PoolMember> members);
  /// Whether one walk from the thin end serves every member in full; false may be mere bad luck.
  bool serves_all() const;
  /// No sum of weights is greater.
  double sum_at_most() const;
  const std::vector<int>& pairs(std::size_t first);

 private:
  // The rootstocks that a scion fits: places, the last not in.
  struct Range {
    std::int16_t first, last;
  };
  static constexpr std::size_t kSets = std::size_t{1} << kMostInPool;
  using BySet = std::array<std::int16_t, kSets>;

  void count_all_sets();
  int more_for(std::size_t member) const;
  void give(std::size_t member, int more);
  void serve(std::span<const std::size_t> alike);

  const MatchCounter& counter_;
  std::span<const std::uint16_t> rootstocks_{};
  std::span<const PoolScion> scions_{};
  std::span<const PoolMember> members_{};
  std::vector<Range> fits_{};  // by scion
  BySet slack_{};              // of a set of members: its pairs without limits, less those given
  std::vector<std::size_t> order_{};
  std::vector<int> pairs_{};
};

}  // namespace takehold::client
