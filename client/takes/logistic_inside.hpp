// The lines of a logistic regression as a matrix. Only for the .cpp files of this folder.
#pragma once

#include <Eigen/Core>
#include <span>

#include "client/takes/logistic.hpp"

namespace takehold::client {

struct LogisticTable {
  Eigen::MatrixXd x;
  Eigen::VectorXd yes, tried;
  Eigen::VectorXd precision;  ///< of the prior, 0: none
};

LogisticTable table_of(std::span<const Trials> lines, std::span<const double> precision);

/// ln(1 + e^x) without overflow.
double log_one_plus_exp(double x);

}  // namespace takehold::client
