#include "client/plan/share_seed.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <random>

namespace takehold::client {
namespace {

// Two-sided: both seeds are needed, and there are steps in what more of them brings.
SeedClaim claim(std::vector<std::size_t> lots, std::vector<int> wants, double weight, int pace) {
  SeedClaim made;
  made.lots = std::move(lots);
  made.wants = std::move(wants);
  made.gain = [weight, pace](const std::vector<int>& seeds) {
    int least = seeds.front();
    for (const int n : seeds) least = std::min(least, n);
    return weight * (std::sqrt(least) + least / pace);
  };
  return made;
}

double best_by_force(std::vector<int>& left, const std::vector<SeedClaim>& claims, std::size_t at) {
  if (at == claims.size()) return 0;
  const SeedClaim& now = claims[at];
  std::vector<int> seeds(now.lots.size(), 0);
  double best = -1;
  const std::function<void(std::size_t)> choose = [&](std::size_t k) {
    if (k == seeds.size()) {
      best = std::max(best, now.gain(seeds) + best_by_force(left, claims, at + 1));
      return;
    }
    const int most = std::min(now.wants[k], left[now.lots[k]]);
    for (int n = 0; n <= most; ++n) {
      seeds[k] = n;
      left[now.lots[k]] -= n;
      choose(k + 1);
      left[now.lots[k]] += n;
    }
    seeds[k] = 0;
  };
  choose(0);
  return best;
}

void expect_within_limits(const SeedShares& shares, const std::vector<int>& on_hand,
                          const std::vector<SeedClaim>& claims) {
  std::vector<int> left = on_hand;
  double gain = 0;
  for (std::size_t i = 0; i < claims.size(); ++i) {
    for (std::size_t k = 0; k < claims[i].lots.size(); ++k) {
      EXPECT_LE(shares.given[i][k], claims[i].wants[k]);
      left[claims[i].lots[k]] -= shares.given[i][k];
    }
    gain += claims[i].gain(shares.given[i]);
  }
  for (const int n : left) EXPECT_GE(n, 0);
  EXPECT_NEAR(shares.gain, gain, 1e-9);
}

TEST(ShareSeed, is_as_good_as_trying_everything) {
  std::mt19937 random(3);
  for (int round = 0; round < 60; ++round) {
    const std::vector<int> on_hand = {static_cast<int>(random() % 6),
                                      static_cast<int>(random() % 6),
                                      static_cast<int>(random() % 4)};
    std::vector<SeedClaim> claims;
    for (std::size_t i = 0; i < 1 + random() % 4; ++i) {
      const std::size_t lot = random() % 3, other = (lot + 1 + random() % 2) % 3;
      const int want = 1 + static_cast<int>(random() % 5);
      const double weight = 0.5 * static_cast<double>(1 + random() % 4);
      const int pace = 1 + static_cast<int>(random() % 3);
      if (random() % 2 == 0) {
        claims.push_back(claim({lot}, {want}, weight, pace));
      } else {
        claims.push_back(claim({lot, other}, {want, want}, weight, pace));
      }
    }
    const SeedShares shares = share_seed(on_hand, claims);
    EXPECT_TRUE(shares.is_exact);
    expect_within_limits(shares, on_hand, claims);
    auto left = on_hand;
    EXPECT_NEAR(shares.gain, best_by_force(left, claims, 0), 1e-9) << round;
  }
}

// Greedy, seed by seed, would give each of the two a seed and gain nothing.
TEST(ShareSeed, gives_all_to_one_where_a_part_is_worth_nothing) {
  SeedClaim all_or_nothing;
  all_or_nothing.lots = {0};
  all_or_nothing.wants = {10};
  all_or_nothing.gain = [](const std::vector<int>& seeds) { return seeds[0] >= 10 ? 1.0 : 0.0; };
  const SeedShares shares = share_seed({10}, {all_or_nothing, all_or_nothing});
  EXPECT_EQ(shares.gain, 1.0);
}

TEST(ShareSeed, says_when_it_was_too_much_for_an_exact_search) {
  std::vector<SeedClaim> claims;
  for (std::size_t i = 0; i < 9; ++i) {
    claims.push_back(claim({i % 3, (i + 1) % 3}, {60, 60}, 1 + static_cast<double>(i) / 10, 7));
  }
  const std::vector<int> on_hand = {100, 110, 120};
  const SeedShares shares = share_seed(on_hand, claims);
  EXPECT_FALSE(shares.is_exact);
  expect_within_limits(shares, on_hand, claims);
  EXPECT_GT(shares.gain, 9 * 3.0);
}

}  // namespace
}  // namespace takehold::client
