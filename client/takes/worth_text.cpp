#include <fmt/format.h>

#include <cmath>
#include <numeric>

#include "client/takes/worth.hpp"

namespace takehold::client {
namespace {

std::string plants_text(int plants) {
  return fmt::format("{} {}", plants, plants == 1 ? "plant" : "plants");
}

std::string signed_text(double kg, int decimals) {
  return fmt::format("{:.{}f} kg {}", std::abs(kg), decimals, kg >= 0 ? "more" : "less");
}

bool may_be_none(const Interval& between) {
  return between.low <= 0 && between.high >= 0;
}

std::string crop_text(const std::string& scion, const Worth& worth) {
  return fmt::format(
      "{}: grafted it gave {:.2f} kg a plant ({}), on its own roots {:.2f} kg ({}): {:.2f} kg {}.",
      scion, *worth.grafted.mean(), plants_text(worth.grafted.plants), *worth.own_rooted.mean(),
      plants_text(worth.own_rooted.plants), std::abs(*worth.more_kg),
      *worth.more_kg >= 0 ? "more" : "less");
}

std::string sureness(const Worth& worth) {
  if (!worth.between) {
    return " How sure that is cannot be said: it takes at least two plants of each, weighed one by "
           "one.";
  }
  return fmt::format(" 19 times in 20 the difference lies between {} and {} (Welch){}.",
                     signed_text(worth.between->low, 2), signed_text(worth.between->high, 2),
                     may_be_none(*worth.between) ? ", so it may be none at all" : "");
}

std::string cost_text(const Worth& worth) {
  if (!worth.more_cost) {
    return " What a plant cost is not known: prices of seed, cells or grafts are missing.";
  }
  std::string text = fmt::format(" A living grafted plant cost {:.2f}, one on its own roots {:.2f}",
                                 *worth.grafted.cost_a_plant, *worth.own_rooted.cost_a_plant);
  if (worth.cost_a_more_kg) {
    text += fmt::format(": each further kilogram cost {:.2f}", *worth.cost_a_more_kg);
  }
  text += '.';
  if (!worth.more_kg_for_money) return text;
  text += fmt::format(" For one unit of money spent on plants, grafting gave {}",
                      signed_text(*worth.more_kg_for_money, 1));
  if (worth.between_for_money) {
    text += fmt::format(" (19 times in 20 between {} and {})",
                        signed_text(worth.between_for_money->low, 1),
                        signed_text(worth.between_for_money->high, 1));
  }
  return text + '.';
}

std::string health_text(const Crop& grafted, const Crop& own) {
  std::string text;
  if (grafted.died + own.died > 0) {
    text += fmt::format(" In their beds {} of the grafted plants died and {} of the others.",
                        grafted.died, own.died);
  }
  if (grafted.diseased + own.diseased > 0) {
    text += fmt::format(" A disease was noted on {} grafted and on {} on own roots.",
                        plants_text(grafted.diseased), plants_text(own.diseased));
  }
  return text;
}

std::string taste_text(const Crop& grafted, const Crop& own) {
  if (grafted.tastes.empty() || own.tastes.empty()) return "";
  const auto mean = [](const std::vector<double>& scores) {
    return std::accumulate(scores.begin(), scores.end(), 0.0) / static_cast<double>(scores.size());
  };
  return fmt::format(" Taste was scored {:.1f} grafted (scores: {}) and {:.1f} on own roots ({}).",
                     mean(grafted.tastes), grafted.tastes.size(), mean(own.tastes),
                     own.tastes.size());
}

std::string verdict(const Worth& worth) {
  if (*worth.more_kg <= 0) return " By these plants it was not worth it.";
  if (!worth.between) {
    return " It looks worth it, if a kilogram is worth that to you; these weights alone do not "
           "show it.";
  }
  if (may_be_none(*worth.between)) {
    return " It looks worth it, but so few plants do not show it: weigh more of each next year.";
  }
  if (!worth.cost_a_more_kg) return " Grafting gave more; it was worth it.";
  return fmt::format(" It was worth it if a kilogram is worth more than {:.2f} to you.",
                     *worth.cost_a_more_kg);
}

}  // namespace

std::string worth_text(const std::string& scion, const Worth& worth,
                       const std::vector<std::string>& doubts) {
  if (!worth.more_kg) {
    return fmt::format(
        "{}: nothing to set side by side yet: {} grafted and {} on own roots were set out and "
        "weighed.",
        scion, plants_text(worth.grafted.plants), plants_text(worth.own_rooted.plants));
  }
  std::string text = crop_text(scion, worth) + sureness(worth) + cost_text(worth) +
                     health_text(worth.grafted, worth.own_rooted) +
                     taste_text(worth.grafted, worth.own_rooted);
  for (const std::string& doubt : doubts) text += " " + doubt;
  return text + verdict(worth);
}

}  // namespace takehold::client
