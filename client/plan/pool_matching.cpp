#include "client/plan/pool_matching.hpp"

#include <algorithm>
#include <bit>
#include <cassert>
#include <numeric>

namespace takehold::client {

int PoolMatching::all_pairs(std::uint32_t set) {
  int& count = known_[set];
  if (count >= 0) return count;
  if (std::has_single_bit(set)) {
    const auto only = static_cast<std::size_t>(std::countr_zero(set));
    return count = counter_.count(rootstocks_, members_[only].scions);
  }
  merged_.clear();
  for (std::size_t i = 0; i < members_.size(); ++i) {
    if ((set >> i & 1U) == 0) continue;
    const auto middle = static_cast<std::ptrdiff_t>(merged_.size());
    merged_.insert(merged_.end(), members_[i].scions.begin(), members_[i].scions.end());
    std::inplace_merge(merged_.begin(), merged_.begin() + middle, merged_.end());
  }
  return count = counter_.count(rootstocks_, merged_);
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

const std::vector<int>& PoolMatching::pairs(std::span<const std::uint16_t> rootstocks,
                                            std::span<const PoolMember> members,
                                            std::size_t first) {
  assert(members.size() <= kMostInPool);
  rootstocks_ = rootstocks;
  members_ = members;
  known_.assign(std::size_t{1} << members.size(), -1);
  order_.resize(members.size());
  std::iota(order_.begin(), order_.end(), std::size_t{0});
  if (!order_.empty()) {
    const auto turn = static_cast<std::ptrdiff_t>(first % order_.size());
    std::rotate(order_.begin(), order_.begin() + turn, order_.end());
  }
  std::stable_sort(order_.begin(), order_.end(), [&](std::size_t a, std::size_t b) {
    return members_[a].weight > members_[b].weight;
  });
  pairs_.assign(members.size(), 0);
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
