#include "daemon/watch/trend.hpp"

#include <algorithm>
#include <cmath>

namespace takehold::daemon {

using sensors::Instant;
using std::chrono::duration;

namespace {

constexpr double kForgetAfterS = 300;
constexpr double kWild = 8;          // sd of an innovation
constexpr double kFade = 0.8;        // of the leaning, a reading
constexpr double kLeans = 5;         // three of its sd, 1 / sqrt(1 - 0.8²) = 1.67
constexpr double kNoiseFade = 0.97;  // about 30 readings
constexpr double kKinkS = 40;        // a kink's slope is looked for over this long

}  // namespace

double Trend::level_sd() const {
  return std::sqrt(p00_);
}

double Trend::slope_sd() const {
  return std::sqrt(p11_);
}

void Trend::begin(Instant at, double value) {
  level_ = before_ = before_that_ = value;
  slope_ = leaning_ = 0;
  p00_ = noise_ * noise_;
  p01_ = 0;
  p11_ = p00_ / (kKinkS * kKinkS);
  passed_over_ = false;
  seen_ = 1;
  last_at_ = at;
}

void Trend::move(double seconds) {
  const double q = options_.restlessness;
  level_ += slope_ * seconds;
  p00_ += 2 * seconds * p01_ + seconds * seconds * p11_ + q * seconds * seconds * seconds / 3;
  p01_ += seconds * p11_ + q * seconds * seconds / 2;
  p11_ += q * seconds;
}

/// A second difference of independent errors has six times their variance.
void Trend::learn_noise(double value) {
  const double bend = value - 2 * before_ + before_that_;
  before_that_ = before_;
  before_ = value;
  if (seen_ < 3) return;
  const double variance = noise_ * noise_;
  const double sample = std::min(bend * bend / 6, 9 * variance);
  noise_ =
      std::max(options_.least_noise, std::sqrt(kNoiseFade * variance + (1 - kNoiseFade) * sample));
}

bool Trend::is_wild(double innovation, double sd) {
  if (std::abs(innovation) <= kWild * sd || passed_over_) {
    passed_over_ = false;
    return false;
  }
  passed_over_ = true;
  return true;
}

void Trend::see(Instant at, double value) {
  if (!last_at_ || duration<double>(at - *last_at_).count() > kForgetAfterS) {
    begin(at, value);
    return;
  }
  const double seconds = duration<double>(at - *last_at_).count();
  if (seconds <= 0) return;
  last_at_ = at;
  ++seen_;
  move(seconds);
  learn_noise(value);
  const double innovation = value - level_;
  const double variance = p00_ + noise_ * noise_;
  if (is_wild(innovation, std::sqrt(variance))) return;
  leaning_ = kFade * leaning_ + std::clamp(innovation / std::sqrt(variance), -4.0, 4.0);
  if (std::abs(leaning_) > kLeans) {
    const double kink = innovation / kKinkS;
    p11_ += kink * kink;
    p00_ += innovation * innovation / 2;
    p01_ += innovation * kink / 2;
    leaning_ = 0;
  }
  const double s = p00_ + noise_ * noise_;
  const double k0 = p00_ / s, k1 = p01_ / s;
  level_ += k0 * innovation;
  slope_ += k1 * innovation;
  p11_ -= k1 * p01_;
  p01_ -= k0 * p01_;
  p00_ -= k0 * p00_;
}

}  // namespace takehold::daemon
