#include "client/plan/share_quantile.hpp"

#include <algorithm>
#include <boost/math/special_functions/beta.hpp>
#include <cmath>

#include "client/season/normal.hpp"

namespace takehold::client {
namespace {

constexpr double kReach = 6.0;  // standard deviations on either side
constexpr int kSteps = 8;       // a standard deviation
constexpr int kIntervals = static_cast<int>(2 * kReach * kSteps);

using InDoubles = boost::math::policies::policy<boost::math::policies::promote_double<false>>;

double exact_logit(Chance belief, double z) {
  // From whichever end is nearer: 1 - p would lose what the upper tail is made of.
  double yes = 0, no = 0;
  if (z < 0) {
    yes = boost::math::ibeta_inv(belief.a, belief.b, normal_below(z), &no, InDoubles());
  } else {
    yes = boost::math::ibetac_inv(belief.a, belief.b, normal_below(-z), &no, InDoubles());
  }
  constexpr double kLeast = 1e-300;
  return std::log(std::max(yes, kLeast)) - std::log(std::max(no, kLeast));
}

}  // namespace

ShareQuantile::ShareQuantile(Chance belief) {
  for (int i = -1; i <= kIntervals + 1; ++i) {
    logit_.push_back(exact_logit(belief, -kReach + static_cast<double>(i) / kSteps));
  }
}

double ShareQuantile::at(double z) const {
  const double place = std::clamp((z + kReach) * kSteps, 0.0, static_cast<double>(kIntervals));
  const auto left = std::min(static_cast<std::size_t>(place), std::size_t{kIntervals - 1});
  const double t = place - static_cast<double>(left);
  const double* p = logit_.data() + left;  // p[1] and p[2] are the ends
  const double before = (p[2] - p[0]) / 2, after = (p[3] - p[1]) / 2;
  const double u = 1 - t;
  const double logit = p[1] * (1 + 2 * t) * u * u + p[2] * (1 + 2 * u) * t * t +
                       before * t * u * u - after * u * t * t;
  return 1 / (1 + std::exp(-logit));
}

}  // namespace takehold::client
