// How many of its pairs each pairing gets when several share one lot's stems.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "client/plan/match_counter.hpp"

namespace takehold::client {

/// One pairing's scions on a day, sorted, and the most grafts it makes.
struct PoolMember {
  std::span<const std::uint16_t> scions{};
  int most = 0;
  double weight = 1;
};

/// Pairs for each member so that the sum of weight times pairs is greatest, each at most its
/// `most`. Among members of one weight those that come first from place `first` on (and round) are
/// served first: whoever asks for many seasons turns it, so that none is favoured.
///
/// What sets of pairs can be had at once is a polymatroid (scions joined to common rootstocks), cut
/// off at each member's `most`; so serving by falling weight, each as well as can be, is best. How
/// well a set can be served is min over its parts T of (most of T) + (pairs of the rest): the cut.
class PoolMatching {
 public:
  explicit PoolMatching(const MatchCounter& counter) : counter_(counter) {}

  const std::vector<int>& pairs(std::span<const std::uint16_t> rootstocks,
                                std::span<const PoolMember> members, std::size_t first);

 private:
  int all_pairs(std::uint32_t set);
  int best_for(std::uint32_t set);

  const MatchCounter& counter_;
  std::span<const std::uint16_t> rootstocks_{};
  std::span<const PoolMember> members_{};
  std::vector<int> known_{};  // pairs of a set without limits; -1: not counted yet
  std::vector<std::size_t> order_{};
  std::vector<int> pairs_{};
  std::vector<std::uint16_t> merged_{};
};

/// The most pairings in one pool: the work doubles with each.
inline constexpr std::size_t kMostInPool = 8;

}  // namespace takehold::client
