#include "client/takes/interval.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "reference.hpp"

namespace takehold::client {
namespace {

TEST(Interval, wilson_agrees_with_intervals_95_of_the_reference) {
  const auto reference = stats_reference();
  ASSERT_EQ(reference.at("intervals_95").size(), 19u);
  for (const auto& item : reference.at("intervals_95")) {
    const Tally tally{item.at("x").get<int>(), item.at("n").get<int>()};
    SCOPED_TRACE(item.dump());
    const Interval found = wilson(tally);
    EXPECT_NEAR(found.low, item.at("wilson").at(0).get<double>(), 1e-12);
    EXPECT_NEAR(found.high, item.at("wilson").at(1).get<double>(), 1e-12);
  }
}

// Newcombe 1998: 81 of 263; the others made with R 4.2.2.
TEST(Interval, wilson_published_and_extreme_cases) {
  const std::pair<Tally, Interval> cases[] = {{{81, 263}, {0.255289, 0.366210}},
                                              {{45, 50}, {0.786398, 0.956524}},
                                              {{0, 20}, {0.0, 0.161125}},
                                              {{20, 20}, {0.838875, 1.0}}};
  for (const auto& [tally, expected] : cases) {
    EXPECT_NEAR(wilson(tally).low, expected.low, 5e-7);
    EXPECT_NEAR(wilson(tally).high, expected.high, 5e-7);
  }
  EXPECT_EQ(wilson({0, 0}).low, 0);
  EXPECT_EQ(wilson({0, 0}).high, 1);
}

// The other published intervals of the same counts are made of what stands here: Clopper-Pearson
// and Jeffreys of quantiles of a Beta, Agresti-Coull of the centre of Wilson's.
TEST(Interval, quantiles_give_the_other_intervals_of_the_reference) {
  const double z = normal_quantile(0.975);
  const auto intervals = stats_reference().at("intervals_95");
  ASSERT_EQ(intervals.size(), 19u);
  for (const auto& item : intervals) {
    const int x = item.at("x").get<int>(), n = item.at("n").get<int>();
    SCOPED_TRACE(item.dump());
    const auto is = [&](const char* name, double low, double high) {
      EXPECT_NEAR(low, item.at(name).at(0).get<double>(), 1e-9) << name;
      EXPECT_NEAR(high, item.at(name).at(1).get<double>(), 1e-9) << name;
    };
    const Chance jeffreys{x + 0.5, n - x + 0.5};
    is("jeffreys_equal_tail", quantile(jeffreys, 0.025), quantile(jeffreys, 0.975));
    // Brown, Cai & DasGupta 2001, Statist. Sci. 16:101: the outer end is 0 or 1 where none or all.
    is("jeffreys_modified", x == 0 ? 0 : quantile(jeffreys, 0.025),
       x == n ? 1 : quantile(jeffreys, 0.975));
    is("clopper_pearson", x == 0 ? 0 : quantile({x * 1.0, n - x + 1.0}, 0.025),
       x == n ? 1 : quantile({x + 1.0, n - x * 1.0}, 0.975));
    const double centre = (x + z * z / 2) / (n + z * z);
    const double half = z * std::sqrt(centre * (1 - centre) / (n + z * z));
    is("agresti_coull", centre - half, centre + half);
    if (x > 0 && x < n) {
      const Interval ours = wilson({x, n});
      EXPECT_NEAR((ours.low + ours.high) / 2, centre, 1e-12);
    }
  }
}

TEST(Interval, fisher_one_sided_agrees_with_the_reference) {
  const auto tables = stats_reference().at("fisher");
  ASSERT_EQ(tables.size(), 7u);
  for (const auto& item : tables) {
    const auto& table = item.at("table");
    const auto side = [&](int row) {
      const int yes = table.at(row).at(0).get<int>();
      return Tally{yes, yes + table.at(row).at(1).get<int>()};
    };
    EXPECT_NEAR(fisher_greater(side(0), side(1)) / item.at("greater").get<double>(), 1, 1e-9);
    EXPECT_NEAR(fisher_greater(side(1), side(0)) / item.at("less").get<double>(), 1, 1e-9);
  }
  EXPECT_NEAR(fisher_greater({3, 4}, {1, 4}), 17.0 / 70, 1e-12);  // Fisher's tea
}

TEST(Interval, fisher_agrees_with_the_reference) {
  const auto reference = stats_reference();
  ASSERT_EQ(reference.at("fisher").size(), 7u);
  for (const auto& item : reference.at("fisher")) {
    const auto& table = item.at("table");
    const auto side = [&](int row) {
      const int yes = table.at(row).at(0).get<int>();
      return Tally{yes, yes + table.at(row).at(1).get<int>()};
    };
    EXPECT_NEAR(fisher_two_sided(side(0), side(1)) / item.at("two_sided").get<double>(), 1, 1e-9)
        << item.dump();
  }
}

// Fisher's lady tasting tea; two-sided 34/70.
TEST(Interval, fisher_of_the_tea_is_34_in_70) {
  EXPECT_NEAR(fisher_two_sided({3, 4}, {1, 4}), 34.0 / 70, 1e-12);
  EXPECT_NEAR(fisher_two_sided({46, 50}, {38, 50}), 0.0537648, 5e-8);
  EXPECT_EQ(fisher_two_sided({0, 0}, {3, 4}), 1.0);
}

// Newcombe 1998, Statist. Med. 17:873: 56/70 against 48/80.
TEST(Interval, newcombe_of_the_published_case) {
  const Interval found = newcombe({56, 70}, {48, 80});
  EXPECT_NEAR(found.low, 0.0524, 5e-5);
  EXPECT_NEAR(found.high, 0.3339, 5e-5);
}

TEST(Interval, quantiles_of_known_distributions) {
  EXPECT_NEAR(quantile({1, 1}, 0.05), 0.05, 1e-12);               // uniform
  EXPECT_NEAR(quantile({2, 1}, 0.25), 0.5, 1e-12);                // x^2
  EXPECT_NEAR(normal_quantile(0.975), 1.959963984540054, 1e-12);  // R qnorm(0.975)
}

}  // namespace
}  // namespace takehold::client
