// A drawn stem: how thick, and of which seed.
#pragma once

#include <cstdint>

namespace takehold::client {

/// A stem in 32 bits, ordered by diameter: whole micrometres, which sowing of its side (0..7),
/// which seed of that.
class StemKey {
 public:
  static constexpr int kMostSowings = 8;
  static constexpr int kMostSeeds = 8192;  ///< of one sowing
  static constexpr std::uint32_t kWidest = 0xFFFF;

  StemKey() = default;
  StemKey(std::uint32_t um, std::uint32_t sowing, std::uint32_t seed)
      : bits_(um << 16 | sowing << 13 | seed) {}

  std::uint16_t um() const { return static_cast<std::uint16_t>(bits_ >> 16); }
  std::uint32_t sowing() const { return bits_ >> 13 & 7U; }
  std::uint32_t seed() const { return bits_ & 0x1FFFU; }
  friend bool operator<(StemKey a, StemKey b) { return a.bits_ < b.bits_; }

 private:
  std::uint32_t bits_ = 0;
};

}  // namespace takehold::client
