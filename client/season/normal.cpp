#include "client/season/normal.hpp"

#include <boost/math/special_functions/erf.hpp>
#include <cmath>
#include <numbers>

namespace takehold::client {
namespace {

using InDoubles = boost::math::policies::policy<boost::math::policies::promote_double<false>>;

}  // namespace

double normal_below(double z) {
  return 0.5 * std::erfc(-z / std::numbers::sqrt2);
}

double normal_quantile(double p) {
  return -std::numbers::sqrt2 * boost::math::erfc_inv(2 * p, InDoubles());
}

double log_normal_density(double x, double variance) {
  return -0.5 * (x * x / variance + std::log(2 * std::numbers::pi * variance));
}

}  // namespace takehold::client
