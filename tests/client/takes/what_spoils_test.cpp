#include "client/takes/what_spoils.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace takehold::client {
namespace {

// Grafts with known odds: ln odds = 1.6 - 0.5 a tenth of a millimetre of mismatch, a pairing's own
// level, and `cleft` worse by `cleft_effect`.
struct Garden {
  std::mt19937 random{1954};
  double cleft_effect = 0;
  std::vector<BatchFate> batches{};

  double uniform() { return static_cast<double>(random()) / 4294967296.0; }

  void graft(const std::string& pairing, double level, Method method, int grafts) {
    BatchFate batch;
    batch.pairing = pairing;
    batch.method = method;
    batch.by = batches.size() % 2 == 0 ? "first" : "second";
    batch.scored = true;
    for (int i = 1; i <= grafts; ++i) {
      const auto um = static_cast<std::int64_t>(uniform() * 8) * 50;
      const double odds = 1.6 + level - 0.5 * static_cast<double>(um) / 100 +
                          (method == Method::cleft ? cleft_effect : 0);
      const bool took = uniform() < 1 / (1 + std::exp(-odds));
      ++(took ? batch.taken : batch.lost);
      batch.grafts.push_back({i, Millimetres::um(um), took ? Fate::taken : Fate::lost});
    }
    batches.push_back(batch);
  }
};

Garden planted(int batches, int grafts, double cleft_effect = 0) {
  Garden garden;
  garden.cleft_effect = cleft_effect;
  const std::pair<const char*, double> pairings[] = {{"A/R", 0.4}, {"B/R", 0}, {"C/R", -0.4}};
  for (int i = 0; i < batches; ++i) {
    const auto& [name, level] = pairings[i % 3];
    garden.graft(name, level, i % 5 < 3 ? Method::splice : Method::cleft, grafts);
  }
  return garden;
}

const FactorEffect* effect(const WhatSpoils& found, Factor factor) {
  for (const auto& e : found.effects)
    if (e.factor == factor) return &e;
  return nullptr;
}

std::string why_left(const WhatSpoils& found, Factor factor) {
  for (const auto& left : found.left_out)
    if (left.factor == factor) return left.code;
  return "";
}

TEST(WhatSpoils, recovers_the_odds_that_were_planted) {
  const WhatSpoils found = what_spoils(planted(60, 20, -0.8).batches);
  EXPECT_EQ(found.grafts, 1200);
  const FactorEffect* mismatch = effect(found, Factor::mismatch);
  ASSERT_NE(mismatch, nullptr);
  EXPECT_NEAR(mismatch->slope, -0.5, 3 * mismatch->slope_error);
  EXPECT_TRUE(mismatch->is_clear());
  const FactorEffect* method = effect(found, Factor::method);
  ASSERT_NE(method, nullptr);
  EXPECT_EQ(method->of, "cleft rather than splice");
  EXPECT_TRUE(method->is_clear());
  EXPECT_NEAR(method->slope, -0.8, 3 * method->slope_error);
  const FactorEffect* grafter = effect(found, Factor::grafter);
  ASSERT_NE(grafter, nullptr);
  EXPECT_FALSE(grafter->is_clear());
  ASSERT_TRUE(found.pairing_sd);
  EXPECT_GT(*found.pairing_sd, 0.1);
  EXPECT_EQ(why_left(found, Factor::darkness), "not-noted");
}

TEST(WhatSpoils, few_failures_carry_few_factors_and_it_says_which_were_left) {
  Garden garden;
  for (int batch = 0; batch < 3; ++batch) garden.graft("A/R", 30, Method::splice, 10);  // all take
  for (BatchFate& batch : garden.batches) {
    for (std::size_t i = 0; i < 3; ++i) batch.grafts[i].fate = Fate::lost;
    batch.taken = 7;
    batch.lost = 3;
  }
  const WhatSpoils found = what_spoils(garden.batches);
  EXPECT_EQ(found.failures, 9);  // enough for one factor, not for two
  EXPECT_NE(effect(found, Factor::mismatch), nullptr);
  EXPECT_EQ(why_left(found, Factor::grafter), "too-few");
  const WhatSpoils none = what_spoils(planted(1, 4).batches);
  EXPECT_TRUE(none.effects.empty());
  EXPECT_EQ(why_left(none, Factor::mismatch), "too-few");
  EXPECT_EQ(what_spoils({}).grafts, 0);
}

TEST(WhatSpoils, what_parts_takes_from_failures_without_exception_gets_no_odds) {
  Garden garden;
  for (int i = 0; i < 4; ++i) {
    garden.graft("A/R", 30, Method::splice, 10);  // all take
    garden.graft("A/R", -30, Method::cleft, 10);  // all fail
  }
  const WhatSpoils found = what_spoils(garden.batches);
  EXPECT_EQ(effect(found, Factor::method), nullptr);
  EXPECT_EQ(why_left(found, Factor::method), "separated");
}

TEST(WhatSpoils, one_method_for_all_cannot_be_compared) {
  Garden garden;
  for (int i = 0; i < 10; ++i) garden.graft("A/R", 0, Method::splice, 10);
  const WhatSpoils found = what_spoils(garden.batches);
  EXPECT_EQ(why_left(found, Factor::method), "no-difference");
  EXPECT_FALSE(found.pairing_sd);
}

TEST(WhatSpoils, an_effect_that_is_not_there_is_called_clear_about_1_time_in_20) {
  int clear = 0, looked = 0;
  Garden garden;
  for (int round = 0; round < 30; ++round) {
    garden.batches.clear();
    for (int i = 0; i < 12; ++i) {
      garden.graft(i % 2 == 0 ? "A/R" : "B/R", 0, i % 3 == 0 ? Method::cleft : Method::splice, 8);
    }
    const WhatSpoils found = what_spoils(garden.batches);
    if (const FactorEffect* method = effect(found, Factor::method)) {
      ++looked;
      clear += method->is_clear() ? 1 : 0;
    }
  }
  ASSERT_GT(looked, 20);
  EXPECT_LE(clear, 5);  // 30 at 1 in 20: more than 5 happens once in 300
}

}  // namespace
}  // namespace takehold::client
