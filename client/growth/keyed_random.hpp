// Random numbers that are looked up, not drawn in turn: the same key gives the same number,
// whatever else was asked before, on any machine. So a plan with more seed meets the same seeds and
// more.
#pragma once

#include <cstdint>
#include <initializer_list>

namespace takehold::client {

/// A key is a handful of whole numbers: what the number is for, season, lot, wave, seed.
using RandomKey = std::initializer_list<std::uint64_t>;

/// Numbers whose keys differ only in their last part: the key's beginning is mixed once.
class RandomStream {
 public:
  explicit RandomStream(std::uint64_t state) : state_(state) {}

  double uniform(std::uint64_t last) const;  ///< as of the whole key
  double normal(std::uint64_t last) const;   ///< within 1e-7

 private:
  std::uint64_t state_;
};

class KeyedRandom {
 public:
  explicit KeyedRandom(std::uint64_t seed) : seed_(seed) {}

  /// Uniform, strictly between 0 and 1.
  double uniform(RandomKey key) const;
  /// Standard normal, by inversion.
  double normal(RandomKey key) const;
  /// For keys that begin like this.
  RandomStream stream(RandomKey beginning) const;

 private:
  std::uint64_t state_of(RandomKey key) const;

  std::uint64_t seed_;
};

}  // namespace takehold::client
