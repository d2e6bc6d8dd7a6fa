// Against R's glm and lme4's glmer, run here on published data; and against figures in print.
#include "client/takes/logistic.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <sstream>

#include "r_answers.hpp"
#include "reference.hpp"

namespace takehold::client {
namespace {

struct Regression {
  std::vector<Trials> lines;
  std::vector<double> estimate, error;
  double deviance = 0, group_sd = 0;
};

const std::map<std::string, Regression>& regressions() {
  static const std::map<std::string, Regression> all = [] {
    std::map<std::string, Regression> read;
    std::istringstream answers(r_answers("regressions.R"));
    std::string name, equals;
    std::size_t rows = 0, columns = 0;
    while (answers >> name >> rows >> columns) {
      Regression& r = read[name];
      r.lines.resize(rows, {std::vector<double>(columns), 0, 0, 0});
      for (Trials& line : r.lines) {
        answers >> line.yes >> line.tried >> line.group;
        for (double& x : line.x) answers >> x;
      }
      r.estimate.resize(columns);
      r.error.resize(columns);
      answers >> equals;
      for (double& b : r.estimate) answers >> b;
      for (double& e : r.error) answers >> e;
      answers >> r.deviance >> r.group_sd;
    }
    return read;
  }();
  return all;
}

class PlainRegression : public ::testing::TestWithParam<const char*> {};

TEST_P(PlainRegression, agrees_with_r_glm_without_a_prior) {
  const Regression& r = regressions().at(GetParam());
  const LogisticFit fit = fit_logistic(r.lines);
  ASSERT_TRUE(fit.converged);
  for (std::size_t k = 0; k < r.estimate.size(); ++k) {
    EXPECT_NEAR(fit.estimate[k], r.estimate[k], 1e-8 * (1 + std::abs(r.estimate[k])));
    EXPECT_NEAR(fit.standard_error[k], r.error[k], 1e-6 * r.error[k]);
  }
  EXPECT_NEAR(fit.deviance, r.deviance, 1e-7 * r.deviance);
  EXPECT_TRUE(separated_columns(r.lines).empty());
}

INSTANTIATE_TEST_SUITE_P(Data, PlainRegression,
                         ::testing::Values("beetles", "menarche", "infert", "budworm",
                                           "orobanche"));

// lme4 1.1-31, 25 quadrature points; it stops where its deviance no longer falls, which leaves the
// estimates good to about 1e-4.
class GroupedRegression : public ::testing::TestWithParam<const char*> {};

TEST_P(GroupedRegression, agrees_with_lme4_without_a_prior) {
  const Regression& r = regressions().at(GetParam());
  const GroupedFit fit = fit_grouped(r.lines);
  ASSERT_TRUE(fit.fixed.converged);
  for (std::size_t k = 0; k < r.estimate.size(); ++k) {
    EXPECT_NEAR(fit.fixed.estimate[k], r.estimate[k], 1e-4);
    EXPECT_NEAR(fit.fixed.standard_error[k], r.error[k], 0.01 * r.error[k]);
  }
  EXPECT_NEAR(fit.group_sd, r.group_sd, 1e-4);
}

INSTANTIATE_TEST_SUITE_P(Data, GroupedRegression,
                         ::testing::Values("orobanche_plates", "cbpp_herds"));

// Bliss 1935 as in Dobson's textbook; Crowder 1978; Venables & Ripley 2002 (budworm): R 4.2.2.
TEST(Logistic, published_estimates) {
  const auto b = [](const char* name) { return fit_logistic(regressions().at(name).lines); };
  EXPECT_NEAR(b("beetles").estimate[0], -60.717455, 1e-6);
  EXPECT_NEAR(b("beetles").estimate[1], 34.270326, 1e-6);
  EXPECT_NEAR(b("beetles").deviance, 11.232231, 1e-6);
  const auto budworm = b("budworm").estimate;
  EXPECT_NEAR(budworm[0], -3.473155, 1e-6);
  EXPECT_NEAR(budworm[0] + budworm[1], -2.372412, 1e-6);
  EXPECT_NEAR(budworm[2], 1.064214, 1e-6);
  EXPECT_NEAR(b("orobanche").deviance, 33.277786, 1e-6);
  const GroupedFit plates = fit_grouped(regressions().at("orobanche_plates").lines);
  EXPECT_NEAR(plates.group_sd, 0.2363, 1e-4);
  const GroupedFit herds = fit_grouped(regressions().at("cbpp_herds").lines);
  EXPECT_NEAR(herds.group_sd, 0.64752, 1e-4);
}

Trials line(double x, int yes, int tried) {
  return {{1, x}, static_cast<double>(yes), static_cast<double>(tried), 0};
}

// With two lines the model is saturated: the odds ratio is that of the counts, and runs off without
// end where one of them is 0.
TEST(Logistic, odds_of_two_lines_are_the_sample_odds_of_the_reference) {
  int finite = 0;
  const auto tables = stats_reference().at("fisher");
  ASSERT_EQ(tables.size(), 7u);
  for (const auto& item : tables) {
    const auto& table = item.at("table");
    const auto cell = [&](std::size_t i, std::size_t j) { return table.at(i).at(j).get<double>(); };
    const std::vector<Trials> lines{{{1, 1}, cell(0, 0), cell(0, 0) + cell(0, 1), 0},
                                    {{1, 0}, cell(1, 0), cell(1, 0) + cell(1, 1), 0}};
    SCOPED_TRACE(item.dump());
    const auto& odds = item.at("sample_or");
    const bool is_finite = odds.is_number() && odds.get<double>() > 0;
    EXPECT_EQ(separated_columns(lines).empty(), is_finite);
    if (!is_finite) continue;
    ++finite;
    const double ratio = odds.get<double>();
    EXPECT_NEAR(std::exp(fit_logistic(lines).estimate[1]), ratio, 1e-8 * ratio);
  }
  EXPECT_EQ(finite, 4);
}

TEST(Logistic, complete_and_quasi_complete_separation_are_found) {
  const std::vector<Trials> complete{line(1, 0, 3), line(2, 0, 3), line(3, 3, 3), line(4, 3, 3)};
  EXPECT_EQ(separated_columns(complete).size(), 2u);
  const std::vector<Trials> quasi{line(0, 5, 8), line(1, 6, 6)};
  EXPECT_EQ(separated_columns(quasi), std::vector<std::size_t>{1});
}

TEST(Logistic, a_strong_but_finite_effect_is_not_taken_for_separation) {
  const std::vector<Trials> lines{line(0, 1, 1000), line(1, 999, 1000)};
  EXPECT_TRUE(separated_columns(lines).empty());
  EXPECT_NEAR(fit_logistic(lines).estimate[1], 2 * std::log(999.0), 1e-9);
}

// With one column the posterior mode solves yes - n·p = precision·b, checked directly.
TEST(Logistic, a_prior_keeps_separated_data_finite) {
  const std::vector<Trials> lines{{{1}, 10, 10, 0}};
  const std::vector<double> precision{0.25};
  const double b = fit_logistic(lines, precision).estimate[0];
  EXPECT_NEAR(10 - 10 / (1 + std::exp(-b)), 0.25 * b, 1e-9);
}

TEST(Logistic, groups_that_differ_by_nothing_have_next_to_no_sd) {
  std::vector<Trials> lines;
  for (int group = 0; group < 6; ++group) lines.push_back({{1}, 50, 100, group});
  EXPECT_LT(fit_grouped(lines).group_sd, 1e-3);
  EXPECT_NEAR(fit_grouped(lines).fixed.estimate[0], 0, 1e-6);
}

}  // namespace
}  // namespace takehold::client
