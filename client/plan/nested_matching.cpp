// Let rank(r, s) be the most pairs of the stems there at counts r and s. One stem more is at most
// one pair more; and a rootstock that is worth a pair beside few scions is worth it beside more of
// them (the bipartite rank is a bimatroid's). So rank(r, s) - rank(r - 1, s) rises once with s,
// from 0 to 1, or never, and where it does stands the one entry of rootstock r: rank is the number
// of entries in a corner, as with the permutation of Bruhat's decomposition.
//
// Rootstocks are added in the order of their counts. A new one is worth a pair with the earliest
// free scion that an alternating path reaches. The joined rootstocks and scions, both sorted, fit
// one to one, for the ends of the allowed ranges rise (client/match/tolerance.hpp). So a path runs
// one way: the newcomer takes its neighbour's scion, that one the next, and what they reach
// together is one run of scions.
#include "client/plan/nested_matching.hpp"

#include <algorithm>

namespace takehold::client {
namespace {

// A scion's count above its place: the least is the earliest.
std::uint32_t free_from(std::uint8_t from, std::size_t place) {
  return static_cast<std::uint32_t>(from) << 16 | static_cast<std::uint32_t>(place);
}

// Mostly a dozen, and the new one anywhere among them.
void insert_sorted(std::vector<std::uint16_t>& sorted, std::uint16_t added) {
  sorted.push_back(added);
  std::size_t place = sorted.size() - 1;
  for (; place > 0 && added < sorted[place - 1]; --place) sorted[place] = sorted[place - 1];
  sorted[place] = added;
}

}  // namespace

void NestedMatching::set_ranges(std::span<const NestedStem> rootstocks,
                                std::span<const NestedStem> scions) {
  allowed_.resize(rootstocks.size());
  std::size_t first = 0, last = 0;
  for (std::size_t i = 0; i < rootstocks.size(); ++i) {
    const auto [thinnest, thickest] = counter_.allowed(rootstocks[i].um);
    while (first < scions.size() && scions[first].um < thinnest) ++first;
    last = std::max(first, last);
    while (last < scions.size() && scions[last].um <= thickest) ++last;
    allowed_[i] = {static_cast<std::uint16_t>(first), static_cast<std::uint16_t>(last)};
  }
}

// From the thin end, each with the thinnest that is left for it.
void NestedMatching::join_those_always_there(std::span<const NestedStem> rootstocks) {
  std::uint16_t next = 0;
  for (std::size_t i = 0; i < rootstocks.size(); ++i) {
    if (rootstocks[i].from != 0) continue;
    const Range allowed = allowed_[i];
    next = std::max(next, allowed.first);
    while (next < allowed.last && free_[next] != free_from(0, next)) ++next;
    if (next >= allowed.last) {
      left_.push_back(static_cast<std::uint16_t>(i));
      continue;
    }
    free_[next] = kTaken;
    rootstocks_.push_back(static_cast<std::uint16_t>(i));
    scions_.push_back(next++);
  }
  always_ = static_cast<int>(scions_.size());
}

NestedMatching::Range NestedMatching::reach_of(std::uint16_t rootstock, std::size_t place) const {
  Range reach = allowed_[rootstock];
  for (std::size_t i = place; i < scions_.size() && scions_[i] < reach.last; ++i) {
    reach.last = allowed_[rootstocks_[i]].last;
  }
  for (std::size_t i = place; i > 0 && scions_[i - 1] >= reach.first; --i) {
    reach.first = allowed_[rootstocks_[i - 1]].first;
  }
  return reach;
}

// True if that made a pair. One that made none never will.
bool NestedMatching::add(std::uint16_t rootstock, std::uint8_t from) {
  const auto above = std::lower_bound(rootstocks_.begin(), rootstocks_.end(), rootstock);
  const Range reach = reach_of(rootstock, static_cast<std::size_t>(above - rootstocks_.begin()));
  std::uint32_t earliest = kTaken;
  for (std::size_t i = reach.first; i < reach.last; ++i) earliest = std::min(earliest, free_[i]);
  if (earliest == kTaken) return false;
  const auto scion = static_cast<std::uint16_t>(earliest & 0xFFFF);
  insert_sorted(rootstocks_, rootstock);
  insert_sorted(scions_, scion);
  free_[scion] = kTaken;
  entries_.push_back({from, static_cast<std::uint8_t>(earliest >> 16)});
  return true;
}

void NestedMatching::match(std::span<const NestedStem> rootstocks,
                           std::span<const NestedStem> scions) {
  entries_.clear();
  rootstocks_.clear();
  scions_.clear();
  left_.clear();
  free_.resize(scions.size());
  for (std::size_t i = 0; i < scions.size(); ++i) free_[i] = free_from(scions[i].from, i);
  set_ranges(rootstocks, scions);
  join_those_always_there(rootstocks);
  coming_.clear();
  for (std::size_t i = 0; i < rootstocks.size(); ++i) {
    const std::size_t from = rootstocks[i].from;
    if (from >= coming_.size()) coming_.resize(from + 1, kNone);
    coming_[from] = static_cast<std::uint16_t>(i);
  }
  std::size_t free = scions.size() - scions_.size();
  for (std::size_t i = 0; i < left_.size() && free > 0; ++i) free -= add(left_[i], 0) ? 1 : 0;
  for (std::size_t from = 1; from < coming_.size() && free > 0; ++from) {
    if (coming_[from] == kNone) continue;
    free -= add(coming_[from], static_cast<std::uint8_t>(from)) ? 1 : 0;
  }
}

}  // namespace takehold::client
