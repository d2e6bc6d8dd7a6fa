// Logistic regression: how the odds of a success go with what was done.
//
//   ln(p / (1-p)) = x'b (+ s·u_g, u_g ~ N(0, 1) for each group g)
//
// Newton's method, which here is iteratively reweighted least squares (McCullagh & Nelder 1989,
// Generalized Linear Models). The groups' u are integrated out by adaptive Gauss-Hermite
// quadrature (Pinheiro & Bates 1995). A prior b_k ~ N(0, 1/precision_k) keeps few data finite; 0
// is none.
#pragma once

#include <optional>
#include <span>
#include <vector>

namespace takehold::client {

/// One line of data: `tried` trials alike in x, of which `yes` succeeded. Every x is as long as
/// the first; the intercept is a column of ones like any other.
struct Trials {
  std::vector<double> x{};
  double yes = 0;
  double tried = 0;
  int group = 0;  ///< from 0, without gaps; only for fit_grouped
};

struct LogisticFit {
  std::vector<double> estimate{};
  std::vector<double> standard_error{};
  double deviance = 0;  ///< against a model with one share for each line; without the prior's part
  int steps = 0;
  bool converged = false;
};

/// `precision` is empty (no prior) or one a column. At least one line, more lines than 0 columns.
LogisticFit fit_logistic(std::span<const Trials> lines, std::span<const double> precision = {});

/// The columns whose coefficient runs off without end when there is no prior, because they (or a
/// combination of them) part the successes from the failures (Albert & Anderson 1984). Empty: every
/// estimate is finite.
std::vector<std::size_t> separated_columns(std::span<const Trials> lines);

struct GroupedFit {
  LogisticFit fixed{};  ///< deviance: minus twice the log likelihood, up to a constant
  double group_sd = 0;  ///< s, as log odds
};

/// With a random intercept for each group. `weak_prior` puts b as above and, on s, a Gamma(2, 2)
/// that keeps it off zero (after Chung et al. 2013, Psychometrika 78:685); else s is free.
GroupedFit fit_grouped(std::span<const Trials> lines, std::span<const double> precision = {},
                       bool weak_prior = false);

}  // namespace takehold::client
