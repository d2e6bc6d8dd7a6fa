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

int PoolMatching::best_for(std::uint32_t set) {
  // Only members with more pairs of their own than they may make can be worth cutting off.
  std::uint32_t abundant = 0;
  for (std::size_t i = 0; i < members_.size(); ++i) {
    const std::uint32_t only = std::uint32_t{1} << i;
    if ((set & only) != 0 && all_pairs(only) > members_[i].most) abundant |= only;
  }
  int best = all_pairs(set);
  for (std::uint32_t cut = abundant; cut != 0; cut = (cut - 1) & abundant) {
    int most = 0;
    for (std::size_t i = 0; i < members_.size(); ++i) {
      if ((cut >> i & 1U) != 0) most += members_[i].most;
    }
    if (most >= best) continue;
    const std::uint32_t rest = set & ~cut;
    best = std::min(best, most + (rest == 0 ? 0 : all_pairs(rest)));
  }
  return best;
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
  std::uint32_t served = 0;
  int before = 0;
  for (const std::size_t next : order_) {
    served |= std::uint32_t{1} << next;
    const int now = best_for(served);
    pairs_[next] = now - before;
    before = now;
  }
  return pairs_;
}

}  // namespace takehold::client
