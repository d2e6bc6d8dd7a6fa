// Levenberg-Marquardt with the damping scaled by the diagonal (Marquardt 1963) and steered by the
// gain ratio (Nielsen 1999; both from memory). The optimum is checked by the tests against
// certified values.
#include "client/growth/curve_fit.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

namespace takehold::client {
namespace {

using Vector = Eigen::VectorXd;
using Matrix = Eigen::MatrixXd;

constexpr int kMostSteps = 2000;
constexpr double kSmallStep = 1e-12;  // of each parameter: far below six digits
constexpr double kMostDamping = 1e20;
constexpr double kFlat = 1e-6;  // cosine between residuals and slopes at an optimum

struct Problem {
  Curve curve;
  std::span<const CurvePoint> points;

  Vector residuals(const Vector& p) const {
    Vector r(static_cast<Eigen::Index>(points.size()));
    for (std::size_t i = 0; i < points.size(); ++i) {
      r[static_cast<Eigen::Index>(i)] =
          points[i].y - curve_height(curve, {p.data(), std::size_t(p.size())}, points[i].x);
    }
    return r;
  }
  // The same with the best asymptote for the other parameters.
  Vector settled(Vector p) const {
    const double asymptote = p[0];
    p[0] = 1;
    double hh = 0, hy = 0;
    for (const CurvePoint& point : points) {
      const double h = curve_height(curve, {p.data(), std::size_t(p.size())}, point.x);
      hh += h * h;
      hy += h * point.y;
    }
    const double best = hy / hh;
    p[0] = std::isfinite(best) ? best : asymptote;
    return p;
  }
  Matrix slopes(const Vector& p) const {
    Matrix j(static_cast<Eigen::Index>(points.size()), p.size());
    for (std::size_t i = 0; i < points.size(); ++i) {
      const auto row = curve_slopes(curve, {p.data(), std::size_t(p.size())}, points[i].x);
      for (std::size_t k = 0; k < row.size(); ++k) {
        j(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(k)) = row[k];
      }
    }
    return j;
  }
};

// One walk downhill. The last accepted point, however it ended.
struct Walk {
  Vector p;
  Vector r;
  int steps = 0;
};

Walk walk_down(const Problem& problem, const Vector& start) {
  Walk walk{problem.settled(start), {}};
  walk.r = problem.residuals(walk.p);
  double damping = 1e-3;
  double growth = 2;
  for (; walk.steps < kMostSteps && damping < kMostDamping; ++walk.steps) {
    const Matrix j = problem.slopes(walk.p);
    const Matrix normal = j.transpose() * j;
    const Vector downhill = j.transpose() * walk.r;
    const Vector scale = normal.diagonal().cwiseMax(1e-300);
    const Matrix damped = normal + damping * Matrix(scale.asDiagonal());
    const Vector step = damped.ldlt().solve(downhill);
    const Vector tried = problem.settled(walk.p + step);
    const Vector r = problem.residuals(tried);
    const double gained = walk.r.squaredNorm() - r.squaredNorm();
    const double promised = step.dot(damping * scale.cwiseProduct(step) + downhill);
    if (step.allFinite() && r.allFinite() && gained > 0 && promised > 0) {
      walk.p = tried;
      walk.r = r;
      damping *= std::max(1.0 / 3, 1 - std::pow(2 * gained / promised - 1, 3));
      growth = 2;
    } else {
      damping *= growth;
      growth *= 2;
    }
    if ((step.array().abs() <= kSmallStep * (walk.p.array().abs() + kSmallStep)).all()) break;
  }
  return walk;
}

bool is_optimum(const Problem& problem, const Walk& walk) {
  const Matrix j = problem.slopes(walk.p);
  const double length = walk.r.norm();
  if (!walk.p.allFinite() || !walk.r.allFinite() || !j.allFinite()) return false;
  for (Eigen::Index k = 0; k < j.cols(); ++k) {
    if (std::abs(j.col(k).dot(walk.r)) > kFlat * j.col(k).norm() * length) return false;
  }
  return true;
}

// Read off the points: an asymptote a little above the highest, then a straight line through the
// curve's own transformation of the heights.
Vector start_of(Curve curve, std::span<const CurvePoint> points) {
  double top = 0;
  for (const CurvePoint& point : points) top = std::max(top, point.y);
  top *= 1.1;
  double n = 0, x = 0, z = 0, xx = 0, xz = 0;
  for (const CurvePoint& point : points) {
    const double part = std::clamp(point.y / top, 1e-3, 0.999);
    double height = std::log(1 / part - 1);                            // b - k x
    if (curve == Curve::gompertz) height = std::log(-std::log(part));  // ln b - k x
    if (curve == Curve::bounded) height = std::log(1 - part);          // -k x
    n += 1;
    x += point.x;
    z += height;
    xx += point.x * point.x;
    xz += point.x * height;
  }
  if (curve == Curve::bounded) return Vector{{top, -xz / std::max(xx, 1e-300)}};
  const double slope = (xz - x * z / n) / std::max(xx - x * x / n, 1e-300);
  const double height = (z - slope * x) / n;
  if (curve == Curve::gompertz) return Vector{{top, std::exp(height), -slope}};
  if (curve == Curve::logistic) return Vector{{top, height, -slope}};
  return Vector{{top, height, -slope, 1.0}};
}

sensors::Problem no_fit(Curve curve) {
  return {"no-fit",
          std::string("the points settle no ") + std::string(curve_name(curve)) + " curve", "", "",
          "take more points, or name other starting values"};
}

}  // namespace

sensors::Result<CurveFit> fit_curve(Curve curve, std::span<const CurvePoint> points,
                                    std::optional<std::vector<double>> start) {
  const std::size_t unknown = parameter_names(curve).size();
  if (points.size() <= unknown) {
    return sensors::Problem{"too-few-points",
                            "a " + std::string(curve_name(curve)) + " curve wants " +
                                std::to_string(unknown + 1) + " points at least",
                            "", "", ""};
  }
  const Problem problem{curve, points};
  const Vector from = start ? Vector(Eigen::Map<const Vector>(
                                  start->data(), static_cast<Eigen::Index>(start->size())))
                            : start_of(curve, points);
  if (!problem.residuals(from).allFinite() || !problem.slopes(from).allFinite()) {
    return no_fit(curve);
  }
  const Walk walk = walk_down(problem, from);
  CurveFit fit{curve, {walk.p.begin(), walk.p.end()}, {}, walk.r.squaredNorm(), 0, walk.steps};
  fit.residual_sd = std::sqrt(fit.residual_sum / static_cast<double>(points.size() - unknown));
  fit.standard_errors.resize(unknown);
  if (!is_optimum(problem, walk)) return fit;
  const Matrix j = problem.slopes(walk.p);
  const Matrix covariance = (j.transpose() * j).inverse();
  for (std::size_t k = 0; k < unknown; ++k) {
    const auto at = static_cast<Eigen::Index>(k);
    const double error = fit.residual_sd * std::sqrt(covariance(at, at));
    if (std::isfinite(error)) fit.standard_errors[k] = error;
  }
  return fit;
}

}  // namespace takehold::client
