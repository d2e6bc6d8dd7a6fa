// A mixture of Betas: its distribution is the mixture of theirs.
#include <algorithm>
#include <boost/math/special_functions/beta.hpp>
#include <cassert>
#include <cmath>

#include "client/takes/take_model.hpp"

namespace takehold::client {
namespace {

// Twice as fast as Boost's default, which computes in long double.
using InDoubles = boost::math::policies::policy<boost::math::policies::promote_double<false>>;

// Newton's steps for a quantile, kept between what is known to be too low and too high.
constexpr double kSharp = 1e-10;   // of a share
constexpr double kNearEnd = 1e-6;  // of 0 and 1: where to begin at the most
constexpr int kMostSteps = 80;     // halving alone would be done after 34

class Densities {
 public:
  explicit Densities(std::span<const TakeBelief::Part> parts) : parts_(parts) {
    for (const auto& part : parts) scales_.push_back(log_beta(part.chance.a, part.chance.b));
  }
  double operator()(double x) const {
    const double log_yes = std::log(x), log_no = std::log1p(-x);
    double sum = 0;
    for (std::size_t i = 0; i < parts_.size(); ++i) {
      const auto& [weight, chance] = parts_[i];
      sum += weight * std::exp((chance.a - 1) * log_yes + (chance.b - 1) * log_no - scales_[i]);
    }
    return sum;
  }

 private:
  std::span<const TakeBelief::Part> parts_;
  std::vector<double> scales_{};
};

}  // namespace

double TakeBelief::mean() const {
  double mean = 0;
  for (const Part& part : parts_) mean += part.weight * part.chance.mean();
  return mean;
}

double TakeBelief::sd() const {
  const double centre = mean();
  double variance = 0;
  for (const auto& [weight, chance] : parts_) {
    const double off = chance.mean() - centre;
    variance += weight * (chance.variance() + off * off);
  }
  return std::sqrt(variance);
}

double TakeBelief::below(double share) const {
  double below = 0;
  for (const auto& [weight, chance] : parts_) {
    below += weight * boost::math::ibeta(chance.a, chance.b, share, InDoubles());
  }
  return below;
}

double TakeBelief::quantile(double p) const {
  assert(p > 0 && p < 1);
  const Densities density(parts_);
  double low = 0, high = 1;
  double x = std::clamp(mean() + normal_quantile(p) * sd(), kNearEnd, 1 - kNearEnd);
  for (int step = 0; step < kMostSteps; ++step) {
    const double excess = below(x) - p;
    (excess > 0 ? high : low) = x;
    double next = x - excess / density(x);
    if (!(next > low && next < high)) next = (low + high) / 2;
    if (std::abs(next - x) < kSharp) return next;
    x = next;
  }
  return x;
}

}  // namespace takehold::client
