#include "client/takes/worth.hpp"

#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <numeric>

namespace takehold::client {
namespace {

struct Moments {
  double mean = 0;
  double of_mean = 0;  // variance of the mean
  double freedom = 0;
};

Moments moments_of(std::span<const double> values) {
  const auto n = static_cast<double>(values.size());
  const double mean = std::accumulate(values.begin(), values.end(), 0.0) / n;
  double square = 0;
  for (const double value : values) square += (value - mean) * (value - mean);
  return {mean, square / (n - 1) / n, n - 1};
}

std::vector<double> for_money(const Crop& crop) {
  std::vector<double> shares = crop.by_plant;
  for (double& share : shares) share /= *crop.cost_a_plant;
  return shares;
}

bool is_costed(const Crop& crop) {
  return crop.cost_a_plant && *crop.cost_a_plant > 0 && crop.mean();
}

}  // namespace

std::optional<double> cost_of_living_graft(double cost_of_graft_made, double take_rate) {
  if (take_rate <= 0) return std::nullopt;
  return cost_of_graft_made / take_rate;
}

std::optional<Interval> welch(std::span<const double> a, std::span<const double> b,
                              double confidence) {
  if (a.size() < 2 || b.size() < 2) return std::nullopt;
  const Moments of_a = moments_of(a), of_b = moments_of(b);
  const double variance = of_a.of_mean + of_b.of_mean;
  if (variance <= 0) return std::nullopt;
  const double freedom =
      variance * variance /
      (of_a.of_mean * of_a.of_mean / of_a.freedom + of_b.of_mean * of_b.of_mean / of_b.freedom);
  const boost::math::students_t_distribution<> t(freedom);
  const double reach = boost::math::quantile(t, (1 + confidence) / 2) * std::sqrt(variance);
  const double difference = of_a.mean - of_b.mean;
  return Interval{difference - reach, difference + reach};
}

Worth worth_of(const Crop& grafted, const Crop& own_rooted) {
  Worth worth;
  worth.grafted = grafted;
  worth.own_rooted = own_rooted;
  if (grafted.mean() && own_rooted.mean()) worth.more_kg = *grafted.mean() - *own_rooted.mean();
  worth.between = welch(grafted.by_plant, own_rooted.by_plant);
  if (grafted.cost_a_plant && own_rooted.cost_a_plant) {
    worth.more_cost = *grafted.cost_a_plant - *own_rooted.cost_a_plant;
  }
  if (worth.more_kg && worth.more_cost && *worth.more_kg > 0 && *worth.more_cost > 0) {
    worth.cost_a_more_kg = *worth.more_cost / *worth.more_kg;
  }
  if (is_costed(grafted) && is_costed(own_rooted)) {
    worth.more_kg_for_money =
        *grafted.mean() / *grafted.cost_a_plant - *own_rooted.mean() / *own_rooted.cost_a_plant;
    worth.between_for_money = welch(for_money(grafted), for_money(own_rooted));
  }
  return worth;
}

}  // namespace takehold::client
