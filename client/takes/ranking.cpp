#include "client/takes/ranking.hpp"

#include <algorithm>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <numeric>

namespace takehold::client {

double mean_of(const std::vector<double>& values) {
  return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
}

namespace {

constexpr double kAssumedSd = 1;       // points, where no variety has two plants
constexpr double kAssumedFreedom = 4;  // and how little that is known
constexpr double kUpper = 0.95;        // upper end of a 90 % interval

struct Scatter {
  double sd = kAssumedSd;
  double freedom = kAssumedFreedom;
};

Scatter pooled(const std::vector<Scored>& varieties) {
  double square = 0, freedom = 0;
  for (const Scored& one : varieties) {
    const double mean = mean_of(one.by_plant);
    for (const double score : one.by_plant) square += (score - mean) * (score - mean);
    freedom += static_cast<double>(one.by_plant.size()) - 1;
  }
  if (freedom < 1) return {};
  return {std::sqrt(square / freedom), freedom};
}

}  // namespace

std::vector<Ranked> ranking_of(std::vector<Scored> varieties) {
  std::erase_if(varieties, [](const Scored& one) { return one.by_plant.empty(); });
  const Scatter scatter = pooled(varieties);
  const double reach =
      scatter.sd *
      boost::math::quantile(boost::math::students_t_distribution<>(scatter.freedom), kUpper);
  std::vector<Ranked> ranked;
  for (const Scored& one : varieties) {
    const auto plants = static_cast<int>(one.by_plant.size());
    const double mean = mean_of(one.by_plant), half = reach / std::sqrt(plants);
    ranked.push_back({one.variety, plants, mean, mean - half, mean + half, 1});
  }
  std::stable_sort(ranked.begin(), ranked.end(),
                   [](const Ranked& a, const Ranked& b) { return a.mean > b.mean; });
  for (Ranked& one : ranked) {
    for (const Ranked& other : ranked) {
      const double needed = reach * std::sqrt(1.0 / one.plants + 1.0 / other.plants);
      if (other.mean - one.mean > needed) ++one.place;
    }
  }
  return ranked;
}

}  // namespace takehold::client
