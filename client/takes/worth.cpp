#include "client/takes/worth.hpp"

#include <fmt/format.h>

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

std::string plants_text(int plants) {
  return fmt::format("{} {}", plants, plants == 1 ? "plant" : "plants");
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
  Worth worth{grafted, own_rooted, {}, {}, {}, {}};
  if (grafted.mean() && own_rooted.mean()) worth.more_kg = *grafted.mean() - *own_rooted.mean();
  worth.between = welch(grafted.by_plant, own_rooted.by_plant);
  if (grafted.cost_a_plant && own_rooted.cost_a_plant) {
    worth.more_cost = *grafted.cost_a_plant - *own_rooted.cost_a_plant;
  }
  if (worth.more_kg && worth.more_cost && *worth.more_kg > 0 && *worth.more_cost > 0) {
    worth.cost_a_more_kg = *worth.more_cost / *worth.more_kg;
  }
  return worth;
}

std::string worth_text(const std::string& scion, const Worth& worth) {
  if (!worth.more_kg) {
    return fmt::format(
        "{}: nothing to set side by side yet: {} grafted and {} on own roots were "
        "set out and weighed.",
        scion, plants_text(worth.grafted.plants), plants_text(worth.own_rooted.plants));
  }
  std::string text = fmt::format(
      "{}: grafted it gave {:.2f} kg a plant ({}), on its own roots {:.2f} kg ({}): {:.2f} kg {}.",
      scion, *worth.grafted.mean(), plants_text(worth.grafted.plants), *worth.own_rooted.mean(),
      plants_text(worth.own_rooted.plants), std::abs(*worth.more_kg),
      *worth.more_kg >= 0 ? "more" : "less");
  if (!worth.between) {
    text +=
        " How sure that is cannot be said: it takes at least two plants of each, weighed one by "
        "one.";
  } else {
    text += fmt::format(
        " 19 times in 20 the difference lies between {:.2f} and {:.2f} kg{}.", worth.between->low,
        worth.between->high,
        worth.between->low <= 0 && worth.between->high >= 0 ? ", so it may be none at all" : "");
  }
  if (worth.more_cost) {
    text += fmt::format(" A grafted plant cost {:.2f}, one on its own roots {:.2f}.",
                        *worth.grafted.cost_a_plant, *worth.own_rooted.cost_a_plant);
  } else {
    text += " What a plant cost is not known: prices of seed, cells and grafts are missing.";
  }
  if (worth.cost_a_more_kg) {
    text += fmt::format(" Each further kilogram cost {:.2f}.", *worth.cost_a_more_kg);
  }
  if (*worth.more_kg <= 0) text += " By these plants it was not worth it.";
  return text;
}

}  // namespace takehold::client
