// Chance that repeats: the same key gives the same number on any machine.
#pragma once

#include <cstdint>

namespace takehold::sensors {

/// A stream of numbers from a key (SplitMix64: Steele, Lea & Flood 2014).
class Dice {
 public:
  explicit Dice(std::uint64_t key) : state_(key) {}

  std::uint64_t next();
  /// 0 <= x < 1
  double uniform();
  /// Mean 0, sd 1, within ±6: the sum of twelve uniforms less 6. Exact arithmetic only, so that no
  /// library's logarithm can differ; its tails are thinner than the normal's, which noise may be.
  double noise();

 private:
  std::uint64_t state_;
};

/// Keys for independent streams out of one seed.
std::uint64_t mixed(std::uint64_t seed, std::uint64_t a, std::uint64_t b);

}  // namespace takehold::sensors
