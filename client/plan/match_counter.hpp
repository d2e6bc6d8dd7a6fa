// How many pairs sorted stems make, at a nanosecond a stem.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "client/match/tolerance.hpp"
#include "client/plan/stem_key.hpp"

namespace takehold::client {

/// count_matches for diameters up to `widest`, with the tolerance worked out beforehand for every
/// micrometre. Immutable.
class MatchCounter {
 public:
  MatchCounter(const Tolerance& tolerance, std::uint16_t widest);

  /// Both sorted, nothing above `widest`.
  int count(std::span<const std::uint16_t> rootstocks, std::span<const std::uint16_t> scions) const;
  int count(std::span<const StemKey> rootstocks, std::span<const StemKey> scions) const;

  struct Allowed {
    std::uint16_t thinnest, thickest;
  };
  /// The scions that fit a rootstock, both ends in.
  Allowed allowed(std::uint16_t rootstock) const { return scions_for_[rootstock]; }

 private:
  template <class Stem>
  int walk(std::span<const Stem> rootstocks, std::span<const Stem> scions) const;

  std::vector<Allowed> scions_for_;  // by the rootstock's micrometres
};

}  // namespace takehold::client
