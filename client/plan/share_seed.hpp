// Too little seed: who gets how much, for the greatest sum of weight times expected finished
// plants.
#pragma once

#include <functional>
#include <vector>

namespace takehold::client {

/// One user of scarce seed. `wants[k]` seeds of `lots[k]` (places in the list of what is on hand)
/// would do; gain says what fewer lead to, weighted, and never falls with more seed.
struct SeedClaim {
  std::vector<std::size_t> lots{};
  std::vector<int> wants{};
  std::function<double(const std::vector<int>& seeds)> gain{};
};

struct SeedShares {
  std::vector<std::vector<int>> given{};  ///< by claim, then by its lots
  double gain = 0;
  bool is_exact = true;  ///< false: too much for an exact search, the best of programme and swaps
};

/// Exactly, by a dynamic programme over the claims whose state is what is left of every lot, as
/// long as that takes fewer than kMostSharingSteps; claims that share no lot with others, directly
/// or through a third, do not multiply it. Beyond that: the programme for one lot at a time, the
/// others held, until none gains; then seeds moved between any two claims as long as that gains.
SeedShares share_seed(const std::vector<int>& on_hand, const std::vector<SeedClaim>& claims);

inline constexpr double kMostSharingSteps = 2e8;

}  // namespace takehold::client
