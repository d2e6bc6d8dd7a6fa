#include "client/season/normal.hpp"

#include <gtest/gtest.h>

#include <boost/math/special_functions/erf.hpp>
#include <cmath>

namespace takehold::client {
namespace {

// Boost.Math's inverse, an independent implementation.
TEST(Normal, quantile_agrees_with_another_implementation_to_the_last_digits) {
  const auto expect_same = [](double p) {
    const double other = -std::sqrt(2.0) * boost::math::erfc_inv(2 * p);
    EXPECT_NEAR(normal_quantile(p), other, 4e-15 * std::max(1.0, std::abs(other))) << p;
  };
  for (double p = 1e-300; p < 0.01; p *= 7) expect_same(p);
  for (int i = 1; i < 2000; ++i) expect_same(i / 2000.0);
}

TEST(Normal, quick_quantile_is_within_a_ten_millionth) {
  for (int i = 1; i < 1'000'000; i += 7) {
    const double p = i / 1e6;
    ASSERT_NEAR(quick_normal_quantile(p), normal_quantile(p), 1e-7) << p;
  }
  for (const double p : {1e-300, 1e-9, 1.0 / 32, 31.0 / 32, 1 - 1e-9}) {
    EXPECT_NEAR(quick_normal_quantile(p), normal_quantile(p), 1e-7) << p;
  }
}

// R 4.2.2: qnorm(c(.5, .975, .999)).
TEST(Normal, quantile_of_the_usual_levels) {
  EXPECT_EQ(normal_quantile(0.5), 0);
  EXPECT_NEAR(normal_quantile(0.975), 1.959963984540054, 1e-14);
  EXPECT_NEAR(normal_quantile(0.999), 3.090232306167813, 1e-14);
  EXPECT_NEAR(normal_below(1.959963984540054), 0.975, 1e-15);
}

}  // namespace
}  // namespace takehold::client
