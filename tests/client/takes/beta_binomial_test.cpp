#include "client/takes/beta_binomial.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <sstream>
#include <vector>

#include "client/takes/power.hpp"
#include "r_answers.hpp"
#include "reference.hpp"

namespace takehold::client {
namespace {

// Girls and boys in Saxony families of twelve (Geissler 1889, in Lindsey & Altham 1998).
TEST(BetaBinomial, saxony_families) {
  const auto saxony = stats_reference().at("saxony");
  std::vector<Tally> tallies;
  for (int k = 0; k <= 12; ++k) {
    tallies.insert(tallies.end(),
                   saxony.at("counts").at(static_cast<std::size_t>(k)).get<std::size_t>(),
                   Tally{k, 12});
  }
  const auto found = likeliest_beta(tallies);
  ASSERT_TRUE(found);
  EXPECT_NEAR(found->a, saxony.at("mle").at(0).get<double>(), 2e-4);
  EXPECT_NEAR(found->b, saxony.at("mle").at(1).get<double>(), 2e-4);
  EXPECT_NEAR(found->a, 34.103, 5e-4);
  EXPECT_NEAR(beta_binomial_log_likelihood(tallies, *found), saxony.at("loglik").get<double>(),
              5e-5);
  // The moments' estimate (from the same file) is no likelier than ours.
  const Chance moments{saxony.at("moments").at(0).get<double>(),
                       saxony.at("moments").at(1).get<double>()};
  EXPECT_LT(beta_binomial_log_likelihood(tallies, moments), saxony.at("loglik").get<double>());
  EXPECT_LT(scatter_of(tallies).p, 1e-9);
}

// Tarone 1982: the 70 earlier groups, and with the current one.
TEST(BetaBinomial, rat_tumours_70_and_71) {
  const auto rats = stats_reference().at("rats");
  std::vector<Tally> tallies;
  for (const auto& group : rats.at("data")) {
    tallies.push_back({group.at(0).get<int>(), group.at(1).get<int>()});
  }
  ASSERT_EQ(tallies.size(), 70u);
  const auto near = [&](const char* name) {
    const auto found = likeliest_beta(tallies);
    ASSERT_TRUE(found);
    EXPECT_NEAR(found->a, rats.at(name).at(0).get<double>(), 1e-4);
    EXPECT_NEAR(found->b, rats.at(name).at(1).get<double>(), 1e-3);
  };
  near("mle70");
  tallies.push_back({4, 14});
  near("mle71");
}

TEST(BetaBinomial, simulated_groups_and_power_agree_with_r) {
  std::istringstream answers(r_answers("counts.R"));
  std::size_t groups = 0;
  ASSERT_TRUE(answers >> groups);
  std::vector<Tally> tallies(groups);
  for (Tally& tally : tallies) answers >> tally.yes >> tally.tried;
  double a = 0, b = 0, log_likelihood = 0;
  ASSERT_TRUE(answers >> a >> b >> log_likelihood);
  const auto found = likeliest_beta(tallies);
  ASSERT_TRUE(found);
  EXPECT_NEAR(found->a / a, 1, 1e-4);
  EXPECT_NEAR(found->b / b, 1, 1e-4);
  EXPECT_NEAR(beta_binomial_log_likelihood(tallies, *found), log_likelihood, 1e-7);
  int each = 0, cases = 0;
  double p = 0, q = 0, power = 0;
  for (; answers >> each >> p >> q >> power; ++cases) {
    EXPECT_NEAR(fisher_power(each, p, q), power, 1e-9) << each;
  }
  EXPECT_EQ(cases, 3);
}

TEST(BetaBinomial, groups_alike_differ_by_no_more_than_chance) {
  const std::vector<Tally> alike(10, Tally{8, 10});
  EXPECT_FALSE(likeliest_beta(alike));
  EXPECT_EQ(scatter_of(alike).p, 1);
  EXPECT_EQ(scatter_of(std::vector<Tally>{{3, 9}}).p, 1);
  const std::vector<Tally> torn{{10, 10}, {10, 10}, {0, 10}, {1, 10}, {10, 10}};
  EXPECT_LT(scatter_of(torn).p, 0.001);
  EXPECT_GT(scatter_of(torn).rate_sd, 0.2);
}

TEST(Power, no_difference_is_found_no_oftener_than_the_level) {
  for (const double p : {0.5, 0.8, 0.95}) EXPECT_LE(fisher_power(30, p, p), 0.05);
}

TEST(Power, the_fewest_grafts_reach_the_power_and_one_fewer_does_not) {
  const auto each = trials_for_power(0.95, 0.7, 0.8);
  ASSERT_TRUE(each);
  EXPECT_GE(fisher_power(*each, 0.95, 0.7), 0.8);
  EXPECT_LT(fisher_power(*each - 1, 0.95, 0.7), 0.8);
  EXPECT_FALSE(trials_for_power(0.90, 0.91));
  EXPECT_FALSE(trials_for_power(0.9, 0.9));
}

}  // namespace
}  // namespace takehold::client
