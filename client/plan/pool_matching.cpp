#include "client/plan/pool_matching.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <numeric>

namespace takehold::client {

void PoolMatching::take(std::span<const std::uint16_t> rootstocks,
                        std::span<const PoolScion> scions, std::span<const PoolMember> members) {
  assert(members.size() <= kMostInPool);
  rootstocks_ = rootstocks;
  scions_ = scions;
  members_ = members;
  fits_.resize(scions.size());
  std::size_t first = 0, last = 0;
  for (std::size_t i = 0; i < scions.size(); ++i) {
    const std::uint16_t um = scions[i].um;
    while (first < rootstocks.size() && counter_.allowed(rootstocks[first]).thickest < um) ++first;
    last = std::max(first, last);
    while (last < rootstocks.size() && counter_.allowed(rootstocks[last]).thinnest <= um) ++last;
    fits_[i] = {static_cast<std::int16_t>(first), static_cast<std::int16_t>(last)};
  }
}

bool PoolMatching::serves_all() const {
  std::array<int, kMostInPool> lacking{};
  int all = 0;
  for (std::size_t i = 0; i < members_.size(); ++i) all += lacking[i] = members_[i].most;
  const auto enough = static_cast<std::size_t>(all);
  if (rootstocks_.size() < enough || scions_.size() < enough) return false;
  for (std::size_t i = 0, j = 0; all > 0 && i < rootstocks_.size() && j < scions_.size();) {
    const auto [thinnest, thickest] = counter_.allowed(rootstocks_[i]);
    const PoolScion scion = scions_[j];
    if (scion.um > thickest) {
      ++i;
      continue;
    }
    ++j;
    if (scion.um < thinnest || lacking[scion.member] == 0) continue;
    --lacking[scion.member];
    --all;
    ++i;
  }
  return all == 0;
}

double PoolMatching::sum_at_most() const {
  int pairs = 0, next = 0;
  for (const Range fits : fits_) {
    const int place = std::max<int>(next, fits.first);
    const int joined = place < fits.last ? 1 : 0;
    next = place + joined;
    pairs += joined;
  }
  int all = 0;
  double weight = 0;
  for (const PoolMember& member : members_) {
    all += member.most;
    weight = std::max(weight, member.weight);
  }
  return weight * std::min(all, pairs);
}

// Every scion, from the thin end, is joined to the thinnest rootstock left that fits it, in all
// sets at once: they differ only in how far they have come.
void PoolMatching::count_all_sets() {
  static constexpr auto kHolds = [] {
    std::array<BySet, kMostInPool> holds{};
    for (std::size_t member = 0; member < kMostInPool; ++member) {
      for (std::size_t set = 0; set < kSets; ++set) {
        holds[member][set] = static_cast<std::int16_t>(set >> member & 1U);
      }
    }
    return holds;
  }();
  BySet next{}, pairs{};
  for (std::size_t i = 0; i < scions_.size(); ++i) {
    const std::int16_t first = fits_[i].first, last = fits_[i].last;
    const BySet& holds = kHolds[scions_[i].member];
    for (std::size_t set = 0; set < kSets; ++set) {
      const std::int16_t come = next[set], held = holds[set];
      const std::int16_t place = come < first ? first : come;
      const auto joined = static_cast<std::int16_t>(held & (place < last ? 1 : 0));
      next[set] = static_cast<std::int16_t>(place + joined);
      pairs[set] = static_cast<std::int16_t>(pairs[set] + joined);
    }
  }
  slack_ = pairs;
}

// How many pairs more a member can have beside what all have now: the least slack of its sets.
int PoolMatching::more_for(std::size_t member) const {
  const std::size_t sets = std::size_t{1} << members_.size();
  std::int16_t least = slack_[std::size_t{1} << member];
  for (std::size_t set = 0; set < sets; ++set) {
    if ((set >> member & 1U) != 0) least = std::min(least, slack_[set]);
  }
  return least;
}

void PoolMatching::give(std::size_t member, int more) {
  pairs_[member] += more;
  for (std::size_t set = 0; set < (std::size_t{1} << members_.size()); ++set) {
    if ((set >> member & 1U) != 0) slack_[set] = static_cast<std::int16_t>(slack_[set] - more);
  }
}

void PoolMatching::serve(std::span<const std::size_t> alike) {
  for (const int quarters : {2, 3, 4}) {
    for (const std::size_t member : alike) {
      const int level = (members_[member].most * quarters + 3) / 4;
      if (pairs_[member] >= level) continue;
      give(member, std::min(level - pairs_[member], more_for(member)));
    }
  }
}

const std::vector<int>& PoolMatching::pairs(std::size_t first) {
  order_.resize(members_.size());
  std::iota(order_.begin(), order_.end(), std::size_t{0});
  if (!order_.empty()) {
    const auto turn = static_cast<std::ptrdiff_t>(first % order_.size());
    std::rotate(order_.begin(), order_.begin() + turn, order_.end());
  }
  std::stable_sort(order_.begin(), order_.end(), [&](std::size_t a, std::size_t b) {
    return members_[a].weight > members_[b].weight;
  });
  pairs_.assign(members_.size(), 0);
  count_all_sets();
  for (std::size_t begin = 0; begin < order_.size();) {
    std::size_t end = begin + 1;
    while (end < order_.size() && members_[order_[end]].weight == members_[order_[begin]].weight) {
      ++end;
    }
    serve(std::span(order_).subspan(begin, end - begin));
    begin = end;
  }
  return pairs_;
}

}  // namespace takehold::client
