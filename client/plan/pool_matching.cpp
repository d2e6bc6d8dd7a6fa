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
  known_.assign(std::size_t{1} << members.size(), -1);
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

double PoolMatching::sum_at_most() {
  const auto everybody = (std::uint32_t{1} << members_.size()) - 1;
  int all = 0;
  double weight = 0;
  for (const PoolMember& member : members_) {
    all += member.most;
    weight = std::max(weight, member.weight);
  }
  return weight * std::min(all, all_pairs(everybody));
}

int PoolMatching::all_pairs(std::uint32_t set) {
  int& count = known_[set];
  if (count >= 0) return count;
  kept_.resize(scions_.size());
  std::size_t n = 0;
  for (const PoolScion scion : scions_) {
    kept_[n] = scion.um;
    n += set >> scion.member & 1U;
  }
  return count = counter_.count(rootstocks_, {kept_.data(), n});
}

// The most pairs a member can have beside what the others have.
int PoolMatching::most_for(std::size_t member) {
  const std::uint32_t all = (std::uint32_t{1} << members_.size()) - 1;
  const std::uint32_t self = std::uint32_t{1} << member;
  int least = all_pairs(self);
  const std::uint32_t others = all & ~self;
  for (std::uint32_t set = others; set != 0; set = (set - 1) & others) {
    int theirs = 0;
    for (std::size_t i = 0; i < members_.size(); ++i) {
      if ((set >> i & 1U) != 0) theirs += pairs_[i];
    }
    if (theirs == 0) continue;  // then more members only have more pairs
    least = std::min(least, all_pairs(set | self) - theirs);
  }
  return least;
}

void PoolMatching::serve(std::span<const std::size_t> alike) {
  for (const int quarters : {2, 3, 4}) {
    for (const std::size_t member : alike) {
      const int level = (members_[member].most * quarters + 3) / 4;
      if (pairs_[member] >= level) continue;
      pairs_[member] = std::max(pairs_[member], std::min(level, most_for(member)));
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
