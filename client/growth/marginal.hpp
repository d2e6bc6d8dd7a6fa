// The distribution of one unknown number, on cells of equal width.
#pragma once

#include <vector>

namespace takehold::client {

/// Masses of neighbouring cells, spread evenly within each.
class Marginal {
 public:
  Marginal() = default;
  /// Cell i is centred on first + i * width; masses need not add up to 1, but not to 0.
  Marginal(double first, double width, std::vector<double> masses);

  double mean() const { return mean_; }
  double sd() const { return sd_; }
  double below(double x) const;     ///< P(X <= x)
  double quantile(double p) const;  ///< the x with below(x) = p, 0 < p < 1

 private:
  double left_ = 0;  // of the first cell
  double width_ = 1;
  double mean_ = 0;
  double sd_ = 0;
  std::vector<double> below_{};  // at each cell's right end
};

}  // namespace takehold::client
