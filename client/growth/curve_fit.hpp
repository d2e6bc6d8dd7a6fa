// Fitting a growth curve to points by least squares.
#pragma once

#include <cmath>
#include <optional>
#include <span>
#include <vector>

#include "client/growth/curve.hpp"
#include "sensors/quantity/problem.hpp"

namespace takehold::client {

struct CurvePoint {
  double x;
  double y;
};

struct CurveFit {
  Curve curve{};
  std::vector<double> parameters{};
  /// Linearised at the optimum; nothing where the sum of squares went on falling along a valley
  /// without end, so that the points settle no value.
  std::vector<std::optional<double>> standard_errors{};
  double residual_sum = 0;  ///< of squares
  double residual_sd = 0;
  int steps = 0;

  double height(double x) const { return curve_height(curve, parameters, x); }
  /// The data carry the asymptote: its standard error is no more than half its value. If not,
  /// nothing may be foretold beyond the data.
  bool supports_asymptote() const {
    return standard_errors[0] && *standard_errors[0] <= 0.5 * std::abs(parameters[0]);
  }
};

/// Levenberg-Marquardt from `start`, or from a start read off the points; the asymptote, in which
/// every curve is linear, is set to its best after each step. Codes: "too-few-points" (fewer than
/// parameters and one), "no-fit" where the start makes no curve.
sensors::Result<CurveFit> fit_curve(Curve curve, std::span<const CurvePoint> points,
                                    std::optional<std::vector<double>> start = std::nullopt);

}  // namespace takehold::client
