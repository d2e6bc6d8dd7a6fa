// The allowed scions of a rootstock are an interval that holds the equal diameter and whose ends
// rise with it (client/match/tolerance.hpp), so one walk over the table finds them all, and one
// walk over both lists, without branches to mispredict, counts the pairs.
#include "client/plan/match_counter.hpp"

#include <algorithm>

namespace takehold::client {
namespace {

std::uint16_t um_of(std::uint16_t um) {
  return um;
}

std::uint16_t um_of(StemKey stem) {
  return stem.um();
}

}  // namespace

MatchCounter::MatchCounter(const Tolerance& tolerance, std::uint16_t widest) {
  Micrometres thinnest = 0, thickest = 0;
  for (Micrometres x = 0; x <= widest; ++x) {
    while (!tolerance.allows(x, thinnest)) ++thinnest;
    thickest = std::max(thickest, x);
    while (thickest < widest && tolerance.allows(x, thickest + 1)) ++thickest;
    scions_for_.push_back(
        {static_cast<std::uint16_t>(thinnest), static_cast<std::uint16_t>(thickest)});
  }
}

template <class Stem>
int MatchCounter::walk(std::span<const Stem> rootstocks, std::span<const Stem> scions) const {
  int pairs = 0;
  for (std::size_t i = 0, j = 0; i < rootstocks.size() && j < scions.size();) {
    const Allowed allowed = scions_for_[um_of(rootstocks[i])];
    const std::uint16_t scion = um_of(scions[j]);
    const bool thin = scion < allowed.thinnest;
    const bool thick = scion > allowed.thickest;
    pairs += !(thin || thick) ? 1 : 0;
    i += !thin ? 1 : 0;
    j += !thick ? 1 : 0;
  }
  return pairs;
}

int MatchCounter::count(std::span<const std::uint16_t> rootstocks,
                        std::span<const std::uint16_t> scions) const {
  return walk(rootstocks, scions);
}

int MatchCounter::count(std::span<const StemKey> rootstocks,
                        std::span<const StemKey> scions) const {
  return walk(rootstocks, scions);
}

}  // namespace takehold::client
