// Mixing: the finisher of SplitMix64 (Steele, Lea & Flood 2014; constants from memory, checked by
// the tests' uniformity and independence).
#include "client/growth/keyed_random.hpp"

#include "client/season/normal.hpp"

namespace takehold::client {
namespace {

std::uint64_t mix(std::uint64_t x) {
  x += 0x9E3779B97F4A7C15u;
  x = (x ^ (x >> 30)) * 0xBF58476D1CE4E5B9u;
  x = (x ^ (x >> 27)) * 0x94D049BB133111EBu;
  return x ^ (x >> 31);
}

}  // namespace

double KeyedRandom::uniform(RandomKey key) const {
  std::uint64_t state = mix(seed_);
  for (const std::uint64_t part : key) state = mix(state ^ part);
  return (static_cast<double>(state >> 12) + 0.5) * 0x1p-52;
}

double KeyedRandom::normal(RandomKey key) const {
  return normal_quantile(uniform(key));
}

}  // namespace takehold::client
