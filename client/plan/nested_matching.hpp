// How many pairs the first so many stems of either side make, for all numbers at once.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "client/plan/match_counter.hpp"

namespace takehold::client {

/// A stem and the count of its side from which on it is there: 0, always; no two of a side come at
/// one other count.
struct NestedStem {
  std::uint16_t um = 0;
  std::uint8_t from = 0;
};

/// One pair more once both counts have come so far.
struct PairEntry {
  std::uint8_t rootstock = 0;
  std::uint8_t scion = 0;
};

/// With the stems that are there at counts r and s, MatchCounter::count would find
/// `always()` pairs and one for each entry with rootstock <= r and scion <= s: for every r and s.
class NestedMatching {
 public:
  /// `counter` outlives this.
  explicit NestedMatching(const MatchCounter& counter) : counter_(counter) {}

  /// Both sides thinnest first.
  void match(std::span<const NestedStem> rootstocks, std::span<const NestedStem> scions);

  int always() const { return always_; }
  const std::vector<PairEntry>& entries() const { return entries_; }

 private:
  struct Range {
    std::uint16_t first, last;  // places among the scions, the last not in
  };
  static constexpr std::uint32_t kTaken = 0xFFFFFFFF;
  static constexpr std::uint16_t kNone = 0xFFFF;

  void set_ranges(std::span<const NestedStem> rootstocks, std::span<const NestedStem> scions);
  void join_those_always_there(std::span<const NestedStem> rootstocks);
  bool add(std::uint16_t rootstock, std::uint8_t from);
  Range reach_of(std::uint16_t rootstock, std::size_t place) const;

  const MatchCounter& counter_;
  int always_ = 0;
  std::vector<PairEntry> entries_{};
  std::vector<Range> allowed_{};             // by rootstock
  std::vector<std::uint32_t> free_{};        // by scion: from when it is there and place; or kTaken
  std::vector<std::uint16_t> rootstocks_{};  // joined, thinnest first: the k-th of them
  std::vector<std::uint16_t> scions_{};      // carries the k-th of these
  std::vector<std::uint16_t> left_{};        // always there, but not joined
  std::vector<std::uint16_t> coming_{};      // by count: the rootstock that comes then
};

}  // namespace takehold::client
