// Certified values: NIST Statistical Reference Datasets, nonlinear regression: Rat42, Rat43 (read),
// Misra1a and BoxBOD (data, starts and certified values from memory). The R example: SSgompertz on
// the first run of DNase (R 4.2.2).
#include "client/growth/curve_fit.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace takehold::client {
namespace {

using Points = std::vector<CurvePoint>;
using Starts = std::vector<std::vector<double>>;

const Points kRat42 = {{9, 8.93},   {14, 10.80}, {21, 18.59}, {28, 22.33}, {42, 39.35},
                       {57, 56.11}, {63, 61.73}, {70, 64.62}, {79, 67.08}};
const Points kRat43 = {{1, 16.08},   {2, 33.83},   {3, 65.80},   {4, 97.20},   {5, 191.55},
                       {6, 326.20},  {7, 386.87},  {8, 520.53},  {9, 590.03},  {10, 651.92},
                       {11, 724.93}, {12, 699.56}, {13, 689.96}, {14, 637.56}, {15, 717.41}};
const Points kMisra1a = {{77.6, 10.07},  {114.9, 14.73}, {141.1, 17.94}, {190.8, 23.93},
                         {239.9, 29.61}, {289.0, 35.18}, {332.8, 40.02}, {378.4, 44.82},
                         {434.8, 50.76}, {477.3, 55.05}, {536.8, 61.01}, {593.1, 66.40},
                         {689.1, 75.47}, {760.0, 81.78}};
const Points kBoxBod = {{1, 109}, {2, 149}, {3, 149}, {5, 191}, {7, 213}, {10, 224}};

// To six digits, from each start and from the program's own.
void expect_certified(Curve curve, const Points& points, const Starts& starts,
                      const std::vector<double>& certified) {
  std::vector<std::optional<std::vector<double>>> from(starts.begin(), starts.end());
  from.push_back(std::nullopt);
  for (const auto& start : from) {
    const auto fit = fit_curve(curve, points, start);
    ASSERT_TRUE(fit) << fit.error().sentence() << (start ? (*start)[0] : 0);
    for (std::size_t i = 0; i < certified.size(); ++i) {
      EXPECT_NEAR(fit->parameters[i], certified[i], 1e-7 * std::abs(certified[i])) << i;
    }
  }
}

TEST(CurveFit, logistic_meets_the_certified_rat42) {
  expect_certified(Curve::logistic, kRat42, {{100, 1, 0.1}, {75, 2.5, 0.07}},
                   {72.462237576, 2.6180768402, 0.067359200066});
}

TEST(CurveFit, richards_meets_the_certified_rat43) {
  expect_certified(Curve::richards, kRat43, {{100, 10, 1, 1}, {700, 5, 0.75, 1.3}},
                   {699.64151270, 5.2771253025, 0.75962938329, 1.2792483859});
}

TEST(CurveFit, bounded_meets_the_certified_misra1a) {
  expect_certified(Curve::bounded, kMisra1a, {{500, 0.0001}, {250, 0.0005}},
                   {238.94212918, 5.5015643181e-4});
}

TEST(CurveFit, bounded_meets_the_certified_boxbod) {
  expect_certified(Curve::bounded, kBoxBod, {{1, 1}, {100, 0.75}}, {213.80940889, 0.54723748542});
}

// R: with(subset(DNase, Run == 1), nls(density ~ SSgompertz(log(conc), Asym, b2, b3))); there
// Asym exp(-b2 b3^x), so b3 = exp(-k).
TEST(CurveFit, gompertz_meets_r_on_the_first_run_of_dnase) {
  const double conc[] = {0.04882812, 0.1953125, 0.390625, 0.78125, 1.5625, 3.125, 6.25, 12.5};
  const double density[][2] = {{0.017, 0.018}, {0.121, 0.124}, {0.206, 0.215}, {0.377, 0.374},
                               {0.614, 0.609}, {1.019, 1.001}, {1.334, 1.364}, {1.730, 1.710}};
  Points points;
  for (int i = 0; i < 8; ++i) {
    for (const double y : density[i]) points.push_back({std::log(conc[i]), y});
  }
  const auto fit = fit_curve(Curve::gompertz, points);
  ASSERT_TRUE(fit) << fit.error().sentence();
  EXPECT_NEAR(fit->parameters[0], 4.60333, 5e-6);
  EXPECT_NEAR(fit->parameters[1], 2.27134, 5e-6);
  EXPECT_NEAR(std::exp(-fit->parameters[2]), 0.716467, 1e-6);  // R stopped 1.9e-6 off its optimum
}

// R 4.2.2: nls(circumference ~ SSlogis(age, Asym, xmid, scal), Orange), its five trees (Draper &
// Smith 1998, Applied Regression Analysis) together. There Asym / (1 + exp((xmid - x) / scal)). By
// default R stops at 192.687346, 728.755156, 353.532613, 1.2e-3 off its own optimum; with tol =
// 1e-8 it gives the figures below.
TEST(CurveFit, logistic_meets_r_on_the_orange_trees) {
  const double age[] = {118, 484, 664, 1004, 1231, 1372, 1582};
  const double girth[][7] = {{30, 58, 87, 115, 120, 142, 145},
                             {33, 69, 111, 156, 172, 203, 203},
                             {30, 51, 75, 108, 115, 139, 140},
                             {32, 62, 112, 167, 179, 209, 214},
                             {30, 49, 81, 125, 142, 174, 177}};
  Points points;
  for (const auto& tree : girth) {
    for (int i = 0; i < 7; ++i) points.push_back({age[i], tree[i]});
  }
  const auto fit = fit_curve(Curve::logistic, points);
  ASSERT_TRUE(fit) << fit.error().sentence();
  const double scale = 1 / fit->parameters[2];
  EXPECT_NEAR(fit->parameters[0], 192.687591676, 1e-5);
  EXPECT_NEAR(fit->parameters[1] * scale, 728.756381634, 1e-5);
  EXPECT_NEAR(scale, 353.533664900, 1e-5);
  EXPECT_LE(fit->residual_sum, 17480.23350913) << "where R stops by default";
}

// NIST's certified standard deviations for Rat42: 1.7340283401, 0.088295217536, 0.0034465663377
// (from memory).
TEST(CurveFit, standard_errors_are_the_certified_ones) {
  const auto fit = fit_curve(Curve::logistic, kRat42);
  ASSERT_TRUE(fit);
  EXPECT_NEAR(fit->standard_errors[0].value_or(0), 1.7340283401, 1e-6);
  EXPECT_NEAR(fit->standard_errors[1].value_or(0), 0.088295217536, 1e-7);
  EXPECT_NEAR(fit->standard_errors[2].value_or(0), 0.0034465663377, 1e-9);
  EXPECT_TRUE(fit->supports_asymptote());
}

TEST(CurveFit, young_stems_alone_support_no_asymptote) {
  const Points young = {{40, 1.36}, {60, 1.43}, {80, 1.56}, {100, 1.70}, {120, 1.81}, {140, 1.98}};
  const auto fit = fit_curve(Curve::logistic, young);
  ASSERT_TRUE(fit) << fit.error().sentence();
  EXPECT_FALSE(fit->supports_asymptote());
}

TEST(CurveFit, too_few_points_and_points_without_a_curve_are_refused) {
  EXPECT_EQ(fit_curve(Curve::logistic, Points{{1, 1}, {2, 2}, {3, 3}}).error().code,
            "too-few-points");
  EXPECT_EQ(fit_curve(Curve::richards, kRat43, std::vector<double>{700, 5, 0.75, 0}).error().code,
            "no-fit");
}

}  // namespace
}  // namespace takehold::client
