// The marginal likelihood of a group is  ∫ exp(h(u)) du / sqrt(2 pi),
//   h(u) = sum over its lines of  y·(x'b + s u) - n ln(1 + exp(x'b + s u))  -  u²/2,
// summed at Gauss-Hermite nodes centred on the mode of h and scaled by its curvature. The slope in
// (b, s) is the slope of the complete data averaged over the same nodes (Fisher's identity); the
// climb is Newton's with the slope differenced for the curvature.
#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "client/takes/logistic_inside.hpp"

namespace takehold::client {

using Eigen::MatrixXd;
using Eigen::VectorXd;

namespace {

constexpr int kNodes = 25;
constexpr int kMostSteps = 100;
constexpr double kStill = 1e-7;       // of the slope: differenced curvature is good to about 1e-8
constexpr double kDifference = 1e-5;  // cube root of the rounding of a slope near 1
constexpr double kFirstSd = 0.5;

struct Rule {
  VectorXd node, log_weight;
};

// Golub & Welsch 1969: nodes are eigenvalues of the Jacobi matrix of the Hermite polynomials.
const Rule& hermite() {
  static const Rule rule = [] {
    MatrixXd jacobi = MatrixXd::Zero(kNodes, kNodes);
    for (int i = 1; i < kNodes; ++i) jacobi(i, i - 1) = jacobi(i - 1, i) = std::sqrt(i / 2.0);
    const Eigen::SelfAdjointEigenSolver<MatrixXd> solver(jacobi);
    const VectorXd weight =
        solver.eigenvectors().row(0).transpose().array().square() * std::sqrt(std::numbers::pi);
    return Rule{solver.eigenvalues(), weight.array().log().matrix()};
  }();
  return rule;
}

struct Group {
  std::vector<Eigen::Index> lines;
};

class Marginal {
 public:
  Marginal(std::span<const Trials> lines, std::span<const double> precision, bool weak_prior)
      : table_(table_of(lines, precision)), weak_prior_(weak_prior) {
    for (std::size_t i = 0; i < lines.size(); ++i) {
      const auto group = static_cast<std::size_t>(lines[i].group);
      if (groups_.size() <= group) groups_.resize(group + 1);
      groups_[group].lines.push_back(static_cast<Eigen::Index>(i));
    }
  }

  Eigen::Index size() const { return table_.x.cols() + 1; }

  // b and then s. The log likelihood with the prior; adds its slope to `slope`.
  double value(const VectorXd& at, VectorXd* slope) const {
    const VectorXd b = at.head(size() - 1);
    const double s = at[size() - 1];
    const VectorXd odds = table_.x * b;
    double sum = -0.5 * (table_.precision.array() * b.array().square()).sum();
    if (slope != nullptr) {
      slope->setZero(size());
      slope->head(size() - 1) = -table_.precision.cwiseProduct(b);
    }
    for (const Group& group : groups_) sum += of_group(group, odds, s, slope);
    if (weak_prior_) {  // Gamma(2, 2) on |s|
      sum += std::log(std::max(std::abs(s), 1e-12)) - 2 * std::abs(s);
      if (slope != nullptr) (*slope)[size() - 1] += 1 / s - (s > 0 ? 2 : -2);
    }
    return sum;
  }

  VectorXd slope_at(const VectorXd& at) const {
    VectorXd slope;
    value(at, &slope);
    return slope;
  }

  MatrixXd curvature_at(const VectorXd& at) const {
    MatrixXd curvature(size(), size());
    for (Eigen::Index k = 0; k < size(); ++k) {
      VectorXd up = at, down = at;
      up[k] += kDifference;
      down[k] -= kDifference;
      curvature.col(k) = (slope_at(up) - slope_at(down)) / (2 * kDifference);
    }
    return (curvature + curvature.transpose()) / 2;
  }

 private:
  struct Mode {
    double u = 0;
    double curvature = 1;
  };

  double h(const Group& group, const VectorXd& odds, double s, double u) const {
    double sum = -u * u / 2;
    for (const auto i : group.lines) {
      const double log_odds = odds[i] + s * u;
      sum += table_.yes[i] * log_odds - table_.tried[i] * log_one_plus_exp(log_odds);
    }
    return sum;
  }

  Mode mode_of(const Group& group, const VectorXd& odds, double s) const {
    Mode mode;
    for (int step = 0; step < kMostSteps; ++step) {
      double slope = -mode.u;
      mode.curvature = 1;
      for (const auto i : group.lines) {
        const double share = 1 / (1 + std::exp(-(odds[i] + s * mode.u)));
        slope += s * (table_.yes[i] - table_.tried[i] * share);
        mode.curvature += s * s * table_.tried[i] * share * (1 - share);
      }
      // h is concave with curvature at least 1: half steps far out keep Newton from overshooting.
      const double move = std::clamp(slope / mode.curvature, -1.0, 1.0);
      mode.u += move;
      if (std::abs(move) < 1e-12) break;
    }
    return mode;
  }

  double of_group(const Group& group, const VectorXd& odds, double s, VectorXd* slope) const {
    const Mode mode = mode_of(group, odds, s);
    const double scale = std::sqrt(2 / mode.curvature);
    const Rule& rule = hermite();
    VectorXd logs(kNodes);
    for (int k = 0; k < kNodes; ++k) {
      const double t = rule.node[k];
      logs[k] = rule.log_weight[k] + t * t + h(group, odds, s, mode.u + scale * t);
    }
    const double highest = logs.maxCoeff();
    const VectorXd mass = (logs.array() - highest).exp();
    if (slope != nullptr) add_slope(group, odds, s, mode.u, scale, mass / mass.sum(), *slope);
    return highest + std::log(mass.sum() * scale) - 0.5 * std::log(2 * std::numbers::pi);
  }

  void add_slope(const Group& group, const VectorXd& odds, double s, double centre, double scale,
                 const VectorXd& mass, VectorXd& slope) const {
    for (int k = 0; k < kNodes; ++k) {
      const double u = centre + scale * hermite().node[k];
      for (const auto i : group.lines) {
        const double share = 1 / (1 + std::exp(-(odds[i] + s * u)));
        const double left = mass[k] * (table_.yes[i] - table_.tried[i] * share);
        slope.head(size() - 1) += left * table_.x.row(i).transpose();
        slope[size() - 1] += left * u;
      }
    }
  }

  LogisticTable table_;
  std::vector<Group> groups_;
  bool weak_prior_;
};

// A direction uphill even where the curvature is not that of a hill.
VectorXd uphill(const MatrixXd& curvature, const VectorXd& slope) {
  const Eigen::SelfAdjointEigenSolver<MatrixXd> solver(-curvature);
  const VectorXd bend = solver.eigenvalues().cwiseAbs().cwiseMax(1e-6);
  return solver.eigenvectors() *
         (solver.eigenvectors().transpose() * slope).cwiseQuotient(bend).eval();
}

}  // namespace

GroupedFit fit_grouped(std::span<const Trials> lines, std::span<const double> precision,
                       bool weak_prior) {
  const Marginal marginal(lines, precision, weak_prior);
  const auto start = fit_logistic(lines, precision);
  VectorXd at(marginal.size());
  at.head(marginal.size() - 1) = Eigen::Map<const VectorXd>(start.estimate.data(), at.size() - 1);
  at[at.size() - 1] = kFirstSd;
  GroupedFit fit;
  VectorXd slope;
  double value = marginal.value(at, &slope);
  while (fit.fixed.steps < kMostSteps && slope.cwiseAbs().maxCoeff() > kStill) {
    VectorXd step = uphill(marginal.curvature_at(at), slope);
    double next = marginal.value(at + step, nullptr);
    for (int half = 0; !(next >= value) && half < 40; ++half) {
      step /= 2;
      next = marginal.value(at + step, nullptr);
    }
    at += step;
    ++fit.fixed.steps;
    const bool stands = step.norm() < 1e-12 * (1 + at.norm());
    value = marginal.value(at, &slope);
    if (stands) break;
  }
  fit.fixed.converged = slope.cwiseAbs().maxCoeff() <= 10 * kStill;
  fit.fixed.estimate.assign(at.begin(), at.end() - 1);
  fit.fixed.deviance = -2 * value;
  fit.group_sd = std::abs(at[at.size() - 1]);  // s and -s say the same
  const MatrixXd spread =
      (-marginal.curvature_at(at)).completeOrthogonalDecomposition().pseudoInverse();
  for (Eigen::Index k = 0; k + 1 < at.size(); ++k) {
    fit.fixed.standard_error.push_back(std::sqrt(std::max(0.0, spread(k, k))));
  }
  return fit;
}

}  // namespace takehold::client
