// The quantile is algorithm AS 241, routine PPND16 (Wichura 1988, Applied Statistics 37:477;
// coefficients from memory, checked against Boost's inverse to 1e-14): rational in the middle, and
// in sqrt(-ln p) towards either end. Boost's own takes ten times as long, and plans ask for
// millions.
#include "client/season/normal.hpp"

#include <array>
#include <cmath>
#include <numbers>

namespace takehold::client {
namespace {

using Polynomial = std::array<double, 8>;  // from the constant upwards

constexpr double kMiddle = 0.425;  // half the width of the middle, in p
constexpr Polynomial kMiddleAbove = {3.3871328727963666080e0,  1.3314166789178437745e+2,
                                     1.9715909503065514427e+3, 1.3731693765509461125e+4,
                                     4.5921953931549871457e+4, 6.7265770927008700853e+4,
                                     3.3430575583588128105e+4, 2.5090809287301226727e+3};
constexpr Polynomial kMiddleBelow = {1.0,
                                     4.2313330701600911252e+1,
                                     6.8718700749205790830e+2,
                                     5.3941960214247511077e+3,
                                     2.1213794301586595867e+4,
                                     3.9307895800092710610e+4,
                                     2.8729085735721942674e+4,
                                     5.2264952788528545610e+3};
constexpr Polynomial kTailAbove = {1.42343711074968357734e0,  4.63033784615654529590e0,
                                   5.76949722146069140550e0,  3.64784832476320460504e0,
                                   1.27045825245236838258e0,  2.41780725177450611770e-1,
                                   2.27238449892691845833e-2, 7.74545014278341407640e-4};
constexpr Polynomial kTailBelow = {1.0,
                                   2.05319162663775882187e0,
                                   1.67638483018380384940e0,
                                   6.89767334985100004550e-1,
                                   1.48103976427480074590e-1,
                                   1.51986665636164571966e-2,
                                   5.47593808499534494600e-4,
                                   1.05075007164441684324e-9};
constexpr Polynomial kFarAbove = {6.65790464350110377720e0,  5.46378491116411436990e0,
                                  1.78482653991729133580e0,  2.96560571828504891230e-1,
                                  2.65321895265761230930e-2, 1.24266094738807843860e-3,
                                  2.71155556874348757815e-5, 2.01033439929228813265e-7};
constexpr Polynomial kFarBelow = {1.0,
                                  5.99832206555887937690e-1,
                                  1.36929880922735805310e-1,
                                  1.48753612908506148525e-2,
                                  7.86869131145613259100e-4,
                                  1.84631831751005468180e-5,
                                  1.42151175831644588870e-7,
                                  2.04426310338993978564e-15};

double value(const Polynomial& c, double x) {
  double sum = c[7];
  for (int i = 6; i >= 0; --i) sum = sum * x + c[static_cast<std::size_t>(i)];
  return sum;
}

// The middle in cubic pieces that meet value and slope, 1 / density, at both ends. The quantile's
// fourth derivative is below 2.2e6 there, so they are off by at most 2.2e6 h^4 / 384 = 7e-8.
constexpr double kPiecesFrom = 1.0 / 32;
constexpr int kPieces = 512;
constexpr double kPiecesPerP = kPieces / (1 - 2 * kPiecesFrom);

using Piece = std::array<double, 4>;  // of the place in the piece, 0 to 1

std::array<Piece, kPieces> middle_pieces() {
  std::array<Piece, kPieces> pieces;
  const auto at = [](int i) { return normal_quantile(kPiecesFrom + i / kPiecesPerP); };
  const auto slope = [](double z) {
    return std::sqrt(2 * std::numbers::pi) * std::exp(z * z / 2) / kPiecesPerP;
  };
  for (int i = 0; i < kPieces; ++i) {
    const double from = at(i), to = at(i + 1), rise = to - from;
    const double left = slope(from), right = slope(to);
    pieces[static_cast<std::size_t>(i)] = {from, left, 3 * rise - 2 * left - right,
                                           left + right - 2 * rise};
  }
  return pieces;
}

}  // namespace

double normal_below(double z) {
  return 0.5 * std::erfc(-z / std::numbers::sqrt2);
}

double normal_quantile(double p) {
  const double q = p - 0.5;
  if (std::abs(q) <= kMiddle) {
    const double r = kMiddle * kMiddle - q * q;
    return q * value(kMiddleAbove, r) / value(kMiddleBelow, r);
  }
  const double r = std::sqrt(-std::log(q < 0 ? p : 1 - p));
  const double z = r <= 5 ? value(kTailAbove, r - 1.6) / value(kTailBelow, r - 1.6)
                          : value(kFarAbove, r - 5) / value(kFarBelow, r - 5);
  return q < 0 ? -z : z;
}

double quick_normal_quantile(double p) {
  static const auto kMiddlePieces = middle_pieces();
  const double place = (p - kPiecesFrom) * kPiecesPerP;
  if (!(place >= 0 && place < kPieces)) return normal_quantile(p);
  const auto i = static_cast<std::size_t>(place);
  const double t = place - static_cast<double>(i);
  const auto& [a, b, c, d] = kMiddlePieces[i];
  return a + t * (b + t * (c + t * d));
}

double log_normal_density(double x, double variance) {
  return -0.5 * (x * x / variance + std::log(2 * std::numbers::pi * variance));
}

}  // namespace takehold::client
