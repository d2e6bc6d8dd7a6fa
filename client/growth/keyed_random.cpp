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

double between_0_and_1(std::uint64_t bits) {
  return (static_cast<double>(bits >> 12) + 0.5) * 0x1p-52;
}

}  // namespace

double RandomStream::uniform(std::uint64_t last) const {
  return between_0_and_1(mix(state_ ^ last));
}

double RandomStream::normal(std::uint64_t last) const {
  return quick_normal_quantile(uniform(last));
}

std::uint64_t KeyedRandom::state_of(RandomKey key) const {
  std::uint64_t state = mix(seed_);
  for (const std::uint64_t part : key) state = mix(state ^ part);
  return state;
}

double KeyedRandom::uniform(RandomKey key) const {
  return between_0_and_1(state_of(key));
}

double KeyedRandom::normal(RandomKey key) const {
  return normal_quantile(uniform(key));
}

RandomStream KeyedRandom::stream(RandomKey beginning) const {
  return RandomStream(state_of(beginning));
}

}  // namespace takehold::client
