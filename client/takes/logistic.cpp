#include "client/takes/logistic.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cassert>
#include <cmath>

#include "client/takes/logistic_inside.hpp"

namespace takehold::client {

using Eigen::MatrixXd;
using Eigen::VectorXd;

namespace {

constexpr int kMostSteps = 60;
constexpr double kStill = 1e-10;  // a Newton step below this, squared convergence: done
// Where the estimates run off, each Newton step moves the log odds of the parted lines on by about
// one, and the deviance falls by a constant factor; ordinary data need under ten steps.
constexpr int kRunsOffAfter = 25;
constexpr double kRunsOff = 0.01;  // a coefficient's step, in units of its column's size

double share_of(double log_odds) {
  return 1 / (1 + std::exp(-log_odds));
}

// y ln(y/m), 0 at y = 0
double term(double seen, double fitted) {
  return seen > 0 ? seen * std::log(seen / fitted) : 0;
}

struct Newton {
  VectorXd b;
  VectorXd last_step;
  MatrixXd information;
  double objective = 0;
  int steps = 0;
  bool converged = false;
};

double penalised(const LogisticTable& table, const VectorXd& b) {
  const VectorXd odds = table.x * b;
  double sum = -0.5 * (table.precision.array() * b.array().square()).sum();
  for (Eigen::Index i = 0; i < odds.size(); ++i) {
    sum += table.yes[i] * odds[i] - table.tried[i] * log_one_plus_exp(odds[i]);
  }
  return sum;
}

Newton climb(const LogisticTable& table, int most_steps) {
  const auto columns = table.x.cols();
  Newton state{VectorXd::Zero(columns), VectorXd::Zero(columns), {}, 0, 0, false};
  state.objective = penalised(table, state.b);
  while (state.steps < most_steps && !state.converged) {
    const VectorXd share = (table.x * state.b).unaryExpr(&share_of);
    const VectorXd weight = table.tried.array() * share.array() * (1 - share.array());
    const VectorXd slope =
        table.x.transpose() * (table.yes - table.tried.cwiseProduct(share)).eval() -
        table.precision.cwiseProduct(state.b);
    state.information = table.x.transpose() * weight.asDiagonal() * table.x;
    state.information += MatrixXd(table.precision.asDiagonal());
    state.last_step = state.information.completeOrthogonalDecomposition().solve(slope);
    double length = 1;
    double next = penalised(table, state.b + state.last_step);
    while (!(next >= state.objective - 1e-12 * std::abs(state.objective)) && length > 1e-6) {
      length /= 2;
      next = penalised(table, state.b + length * state.last_step);
    }
    state.b += length * state.last_step;
    state.objective = next;
    ++state.steps;
    state.converged = state.last_step.cwiseAbs().maxCoeff() < kStill * (1 + state.b.norm());
  }
  return state;
}

double deviance_of(const LogisticTable& table, const VectorXd& b) {
  const VectorXd share = (table.x * b).unaryExpr(&share_of);
  double sum = 0;
  for (Eigen::Index i = 0; i < share.size(); ++i) {
    sum += term(table.yes[i], table.tried[i] * share[i]) +
           term(table.tried[i] - table.yes[i], table.tried[i] * (1 - share[i]));
  }
  return 2 * sum;
}

}  // namespace

double log_one_plus_exp(double x) {
  return x > 0 ? x + std::log1p(std::exp(-x)) : std::log1p(std::exp(x));
}

LogisticTable table_of(std::span<const Trials> lines, std::span<const double> precision) {
  assert(!lines.empty());
  const auto rows = static_cast<Eigen::Index>(lines.size());
  const auto columns = static_cast<Eigen::Index>(lines.front().x.size());
  LogisticTable table{MatrixXd(rows, columns), VectorXd(rows), VectorXd(rows),
                      VectorXd::Zero(columns)};
  for (Eigen::Index i = 0; i < rows; ++i) {
    const Trials& line = lines[static_cast<std::size_t>(i)];
    assert(line.x.size() == lines.front().x.size());
    table.x.row(i) = Eigen::Map<const VectorXd>(line.x.data(), columns).transpose();
    table.yes[i] = line.yes;
    table.tried[i] = line.tried;
  }
  if (!precision.empty()) table.precision = Eigen::Map<const VectorXd>(precision.data(), columns);
  return table;
}

LogisticFit fit_logistic(std::span<const Trials> lines, std::span<const double> precision) {
  const LogisticTable table = table_of(lines, precision);
  const Newton state = climb(table, kMostSteps);
  const VectorXd variance =
      state.information.completeOrthogonalDecomposition().pseudoInverse().diagonal();
  LogisticFit fit;
  fit.estimate.assign(state.b.begin(), state.b.end());
  for (const double v : variance) fit.standard_error.push_back(std::sqrt(v));
  fit.deviance = deviance_of(table, state.b);
  fit.steps = state.steps;
  fit.converged = state.converged;
  return fit;
}

std::vector<std::size_t> separated_columns(std::span<const Trials> lines) {
  const LogisticTable table = table_of(lines, {});
  const Newton state = climb(table, kRunsOffAfter);
  std::vector<std::size_t> columns;
  if (state.converged) return columns;
  for (Eigen::Index k = 0; k < state.b.size(); ++k) {
    const double size = table.x.col(k).cwiseAbs().maxCoeff();
    if (std::abs(state.last_step[k]) * size > kRunsOff) {
      columns.push_back(static_cast<std::size_t>(k));
    }
  }
  return columns;
}

}  // namespace takehold::client
