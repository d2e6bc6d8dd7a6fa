// Random numbers that are looked up, not drawn in turn: the same key gives the same number,
// whatever else was asked before, on any machine. So a plan with more seed meets the same seeds and
// more.
#pragma once

#include <cstdint>
#include <initializer_list>

namespace takehold::client {

/// A key is a handful of whole numbers: what the number is for, season, lot, wave, seed.
using RandomKey = std::initializer_list<std::uint64_t>;

class KeyedRandom {
 public:
  explicit KeyedRandom(std::uint64_t seed) : seed_(seed) {}

  /// Uniform, strictly between 0 and 1.
  double uniform(RandomKey key) const;
  /// Standard normal, by inversion.
  double normal(RandomKey key) const;

 private:
  std::uint64_t seed_;
};

}  // namespace takehold::client
