#include "client/growth/marginal.hpp"

#include <algorithm>
#include <cmath>

namespace takehold::client {

Marginal::Marginal(double first, double width, std::vector<double> masses)
    : left_(first - width / 2), width_(width), below_(std::move(masses)) {
  double total = 0;
  for (const double mass : below_) total += mass;
  double sum = 0;
  double square = 0;
  double running = 0;
  for (std::size_t i = 0; i < below_.size(); ++i) {
    const double mass = below_[i] / total;
    const double x = first + static_cast<double>(i) * width;
    sum += mass * x;
    square += mass * x * x;
    running += mass;
    below_[i] = running;
  }
  mean_ = sum;
  sd_ = std::sqrt(std::max(0.0, square - sum * sum));
}

double Marginal::below(double x) const {
  const double place = (x - left_) / width_;
  if (place <= 0) return 0;
  if (place >= static_cast<double>(below_.size())) return 1;
  const auto cell = static_cast<std::size_t>(place);
  const double before = cell == 0 ? 0 : below_[cell - 1];
  return before + (place - static_cast<double>(cell)) * (below_[cell] - before);
}

double Marginal::quantile(double p) const {
  const auto found = std::lower_bound(below_.begin(), below_.end(), p);
  if (found == below_.end()) return left_ + width_ * static_cast<double>(below_.size());
  const auto cell = static_cast<std::size_t>(found - below_.begin());
  const double before = cell == 0 ? 0 : below_[cell - 1];
  const double part = *found > before ? (p - before) / (*found - before) : 0.5;
  return left_ + width_ * (static_cast<double>(cell) + part);
}

}  // namespace takehold::client
