#include "client/growth/curve.hpp"

#include <cmath>

namespace takehold::client {
namespace {

constexpr std::string_view kNames[] = {"A", "b", "k", "m"};
constexpr std::string_view kBoundedNames[] = {"A", "k"};

}  // namespace

std::string_view curve_name(Curve curve) {
  switch (curve) {
    case Curve::logistic:
      return "logistic";
    case Curve::gompertz:
      return "gompertz";
    case Curve::richards:
      return "richards";
    case Curve::bounded:
      break;
  }
  return "bounded";
}

std::string_view curve_formula(Curve curve) {
  switch (curve) {
    case Curve::logistic:
      return "A / (1 + exp(b - k x))";
    case Curve::gompertz:
      return "A exp(-b exp(-k x))";
    case Curve::richards:
      return "A / (1 + exp(b - k x))^(1/m)";
    case Curve::bounded:
      break;
  }
  return "A (1 - exp(-k x))";
}

std::span<const std::string_view> parameter_names(Curve curve) {
  if (curve == Curve::bounded) return kBoundedNames;
  return std::span(kNames).first(curve == Curve::richards ? 4 : 3);
}

double curve_height(Curve curve, std::span<const double> p, double x) {
  switch (curve) {
    case Curve::logistic:
      return p[0] / (1 + std::exp(p[1] - p[2] * x));
    case Curve::gompertz:
      return p[0] * std::exp(-p[1] * std::exp(-p[2] * x));
    case Curve::richards:
      return p[0] * std::pow(1 + std::exp(p[1] - p[2] * x), -1 / p[3]);
    case Curve::bounded:
      break;
  }
  return p[0] * -std::expm1(-p[1] * x);
}

std::vector<double> curve_slopes(Curve curve, std::span<const double> p, double x) {
  const double height = curve_height(curve, p, x);
  if (curve == Curve::bounded) return {-std::expm1(-p[1] * x), p[0] * x * std::exp(-p[1] * x)};
  if (curve == Curve::gompertz) {
    const double left = std::exp(-p[2] * x);
    return {std::exp(-p[1] * left), -height * left, height * p[1] * x * left};
  }
  const double odds = std::exp(p[1] - p[2] * x);
  const double below = odds / (1 + odds);
  if (curve == Curve::logistic) {
    return {1 / (1 + odds), -height * below, height * below * x};
  }
  const double m = p[3];
  return {std::pow(1 + odds, -1 / m), -height * below / m, height * below * x / m,
          height * std::log1p(odds) / (m * m)};
}

}  // namespace takehold::client
