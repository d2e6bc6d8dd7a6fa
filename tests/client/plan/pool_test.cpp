#include <gtest/gtest.h>

#include <algorithm>
#include <functional>
#include <random>

#include "client/plan/pool_matching.hpp"
#include "client/plan/pool_seasons.hpp"
#include "planned_pair.hpp"

namespace takehold::client {
namespace {

using Stems = std::vector<std::uint16_t>;

Stems some_stems(std::mt19937& random, std::size_t most) {
  Stems stems(random() % (most + 1));
  for (auto& um : stems) um = static_cast<std::uint16_t>(1900 + random() % 500);
  std::sort(stems.begin(), stems.end());
  return stems;
}

struct Member {
  Stems scions;
  int most;
  double weight;
};

// The greatest sum of weights, by trying every partner for every rootstock.
double greatest_sum(const Stems& rootstocks, const std::vector<Member>& members,
                    const Tolerance& tolerance) {
  std::vector<std::vector<bool>> taken;
  std::vector<int> left;
  for (const Member& member : members) {
    taken.emplace_back(member.scions.size());
    left.push_back(member.most);
  }
  const std::function<double(std::size_t)> best = [&](std::size_t r) -> double {
    if (r == rootstocks.size()) return 0;
    double most = best(r + 1);
    for (std::size_t i = 0; i < members.size(); ++i) {
      if (left[i] == 0) continue;
      for (std::size_t j = 0; j < members[i].scions.size(); ++j) {
        if (taken[i][j] || !tolerance.allows(rootstocks[r], members[i].scions[j])) continue;
        taken[i][j] = true;
        --left[i];
        most = std::max(most, members[i].weight + best(r + 1));
        ++left[i];
        taken[i][j] = false;
      }
    }
    return most;
  };
  return best(0);
}

TEST(PoolMatching, reaches_the_greatest_sum_of_weights) {
  std::mt19937 random(5);
  const Tolerance tolerance = Tolerance::percent_of_mean(6);
  const MatchCounter counter(tolerance, 2600);
  for (int round = 0; round < 400; ++round) {
    const Stems rootstocks = some_stems(random, 5);
    std::vector<Member> members;
    for (std::size_t i = 0; i < 1 + random() % 3; ++i) {
      members.push_back({some_stems(random, 4), static_cast<int>(random() % 4),
                         0.5 * static_cast<double>(1 + random() % 4)});
    }
    std::vector<PoolMember> given;
    std::vector<PoolScion> scions;
    for (const Member& member : members) {
      for (const auto um : member.scions) {
        scions.push_back({um, static_cast<std::uint16_t>(given.size())});
      }
      given.push_back({member.most, member.weight});
    }
    std::sort(scions.begin(), scions.end());
    PoolMatching matching(counter);
    matching.take(rootstocks, scions, given);
    const double at_most = matching.sum_at_most();
    const bool serves_all = matching.serves_all();
    const auto& pairs = matching.pairs(random());
    double sum = 0;
    for (std::size_t i = 0; i < pairs.size(); ++i) {
      EXPECT_LE(pairs[i], members[i].most);
      EXPECT_GE(pairs[i], 0);
      sum += members[i].weight * pairs[i];
    }
    EXPECT_DOUBLE_EQ(sum, greatest_sum(rootstocks, members, tolerance)) << round;
    EXPECT_GE(at_most, sum);
    for (std::size_t i = 0; serves_all && i < pairs.size(); ++i) {
      EXPECT_EQ(pairs[i], members[i].most);
    }
  }
}

// A pool of one is the pairing itself, cut off at its grafts.
TEST(PoolSeasons, of_one_pairing_are_that_pairing_s_seasons) {
  const Course course = bench_at(22, 22);
  const MatchCounter counter = within_percent(10);
  const SidePlan below = side_of(course, 1, Species::interspecific, {17, 3}, 21);
  const SidePlan above = side_of(course, 2, Species::lycopersicum, {16, 4}, 19);
  DrawStore store(1, 300);
  PairSeasons alone(below, above, {0, -1, 1}, counter, store);
  PoolSeasons pool(below, 30, {{above, 22, 8, 1.0}}, {0, -1, 1}, counter, store);
  PairSpread cut(9);
  const PairSpread& spread = alone.spread({24, 22});
  for (std::size_t m = 0; m < spread.size(); ++m) cut[std::min<std::size_t>(m, 8)] += spread[m];
  const PairSpread found = pool.spreads(24).front();
  ASSERT_EQ(found.size(), cut.size());
  for (std::size_t m = 0; m < cut.size(); ++m) EXPECT_NEAR(found[m], cut[m], 1e-12);
}

TEST(PoolSeasons, members_of_one_weight_fare_alike) {
  const Course course = bench_at(22, 22);
  const MatchCounter counter = within_percent(10);
  const SidePlan below = side_of(course, 1, Species::interspecific, {17, 3}, 21);
  const SidePlan above = side_of(course, 2, Species::lycopersicum, {16, 4}, 19);
  DrawStore store(1, 2000);
  PoolSeasons pool(below, 20, {{above, 22, 8, 1.0}, {above, 22, 8, 1.0}}, {0}, counter, store);
  const auto spreads = pool.spreads(20);  // too few for both
  double mean[2] = {0, 0};
  for (std::size_t i = 0; i < 2; ++i) {
    for (std::size_t m = 0; m < spreads[i].size(); ++m) {
      mean[i] += static_cast<double>(m) * spreads[i][m];
    }
  }
  EXPECT_GT(mean[0], 3);
  EXPECT_NEAR(mean[0], mean[1], 0.15);
}

}  // namespace
}  // namespace takehold::client
