// Quadrature in u = ln(a/b), v = ln(a+b), where the posterior is smooth and falls off on all sides:
// the plain sum over an even grid then converges faster than any power of its step. The first grid
// spans the prior; each next one the posterior's mean and kSpan sd found on the one before.
#include "client/takes/take_model.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <map>

namespace takehold::client {
namespace {

constexpr int kPoints = 17;           // a side: steps of 3/4 sd, on a normal exact to e^-35
constexpr double kSpan = 6;           // sd: what lies outside is below 1e-8
constexpr int kGrids = 6;             // one on the prior, five that close in
constexpr double kNegligible = 1e-9;  // of the heaviest point's weight: left out

struct Axis {
  double low;
  double high;
  double at(int i) const { return low + (high - low) * i / (kPoints - 1); }
};

struct Point {
  double u, v, weight;
};

using Counted = std::map<std::pair<int, int>, int>;  // (yes, no) -> pairings with these counts

Chance chance_at(double u, double v) {
  const double share = 1 / (1 + std::exp(-u));
  return {std::exp(v) * share, std::exp(v) * (1 - share)};
}

double log_prior(const TakePrior& prior, double u, double v) {
  if (prior.kind == TakePrior::Kind::published) {
    const Chance ab = chance_at(u, v);  // (a+b)^(-5/2) da db = ab (a+b)^(-5/2) du dv
    return std::log(ab.a) + std::log(ab.b) - 2.5 * v;
  }
  const double du = (u - prior.log_ratio_mean) / prior.log_ratio_sd;
  const double dv = (v - prior.log_weight_mean) / prior.log_weight_sd;
  return -0.5 * (du * du + dv * dv);
}

double log_posterior(const TakePrior& prior, const Counted& counted, double u, double v) {
  const auto [a, b] = chance_at(u, v);
  const double base = log_beta(a, b);
  double sum = log_prior(prior, u, v);
  for (const auto& [counts, times] : counted) {
    sum += times * (log_beta(a + counts.first, b + counts.second) - base);
  }
  return sum;
}

std::pair<Axis, Axis> support(const TakePrior& prior) {
  if (prior.kind == TakePrior::Kind::published) return {{-8, 8}, {-2, std::log(1000.0)}};
  const auto around = [](double mean, double sd) {
    return Axis{mean - kSpan * sd, mean + kSpan * sd};
  };
  return {around(prior.log_ratio_mean, prior.log_ratio_sd),
          around(prior.log_weight_mean, prior.log_weight_sd)};
}

std::vector<Point> weigh(const TakePrior& prior, const Counted& counted, Axis us, Axis vs) {
  std::vector<Point> points;
  points.reserve(kPoints * kPoints);
  double highest = -INFINITY;
  for (int i = 0; i < kPoints; ++i) {
    for (int j = 0; j < kPoints; ++j) {
      points.push_back({us.at(i), vs.at(j), log_posterior(prior, counted, us.at(i), vs.at(j))});
      highest = std::max(highest, points.back().weight);
    }
  }
  double total = 0;
  for (Point& point : points) total += point.weight = std::exp(point.weight - highest);
  for (Point& point : points) point.weight /= total;
  return points;
}

// The part of `within` that the posterior fills along one coordinate.
Axis narrowed(const std::vector<Point>& points, double Point::*along, Axis within) {
  double mean = 0, square = 0;
  for (const Point& point : points) mean += point.weight * point.*along;
  for (const Point& point : points) {
    square += point.weight * (point.*along - mean) * (point.*along - mean);
  }
  const double step = (within.high - within.low) / (kPoints - 1);
  const double sd = std::max(std::sqrt(square), step / 2);  // finer than the grid: close in slowly
  return {std::max(within.low, mean - kSpan * sd), std::min(within.high, mean + kSpan * sd)};
}

// E[F_b(x)] under f_a on an even grid over where both live: P(B < A) for two independent Betas.
double probability_above(Chance a, Chance b) {
  const auto reach = [](Chance c) { return 9 * std::sqrt(c.variance()); };
  const double low = std::max(0.0, std::min(a.mean() - reach(a), b.mean() - reach(b)));
  const double high = std::min(1.0, std::max(a.mean() + reach(a), b.mean() + reach(b)));
  constexpr int kCells = 600;
  const double scale_a = log_beta(a.a, a.b), scale_b = log_beta(b.a, b.b);
  double below_b = 0, sum = 0, total_a = 0;
  for (int i = 0; i < kCells; ++i) {
    const double x = low + (high - low) * (i + 0.5) / kCells;
    const double log_yes = std::log(x), log_no = std::log1p(-x);
    const double mass_a = std::exp((a.a - 1) * log_yes + (a.b - 1) * log_no - scale_a);
    const double mass_b = std::exp((b.a - 1) * log_yes + (b.b - 1) * log_no - scale_b);
    sum += mass_a * (below_b + mass_b / 2);
    below_b += mass_b;
    total_a += mass_a;
  }
  return sum / (total_a * below_b);
}

}  // namespace

TakeModel::TakeModel(std::span<const Tally> tallies, const TakePrior& prior) {
  Counted counted;
  for (const Tally& tally : tallies) {
    assert(0 <= tally.yes && tally.yes <= tally.tried);
    if (tally.tried > 0) ++counted[{tally.yes, tally.tried - tally.yes}];
  }
  auto [us, vs] = support(prior);
  std::vector<Point> points = weigh(prior, counted, us, vs);
  for (int grid = 1; grid < kGrids; ++grid) {
    us = narrowed(points, &Point::u, us);
    vs = narrowed(points, &Point::v, vs);
    points = weigh(prior, counted, us, vs);
  }
  double heaviest = 0;
  for (const Point& point : points) heaviest = std::max(heaviest, point.weight);
  double kept = 0;
  for (const Point& point : points) {
    if (point.weight < kNegligible * heaviest) continue;
    common_.push_back({point.weight, chance_at(point.u, point.v)});
    kept += point.weight;
  }
  for (auto& part : common_) part.weight /= kept;
}

double TakeModel::mean_a() const {
  double mean = 0;
  for (const auto& part : common_) mean += part.weight * part.chance.a;
  return mean;
}

double TakeModel::mean_b() const {
  double mean = 0;
  for (const auto& part : common_) mean += part.weight * part.chance.b;
  return mean;
}

TakeBelief TakeModel::belief(Tally tally) const {
  std::vector<TakeBelief::Part> parts;
  for (const auto& [weight, chance] : common_) {
    parts.push_back({weight, chance.after(tally.yes, tally.tried)});
  }
  return TakeBelief(std::move(parts));
}

double TakeModel::probability_better(Tally a, Tally b) const {
  double sum = 0;
  for (const auto& [weight, chance] : common_) {
    sum += weight * probability_above(chance.after(a.yes, a.tried), chance.after(b.yes, b.tried));
  }
  return sum;
}

}  // namespace takehold::client
