// Was the grafting worth it? Grafted plants of a scion against the same scion on its own roots.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "client/takes/interval.hpp"

namespace takehold::client {

/// What plants of one kind gave, weighed plant by plant or all together.
struct Crop {
  int plants = 0;                  ///< set out
  double kilograms = 0;            ///< of all of them
  std::vector<double> by_plant{};  ///< kilograms of each plant; empty: not weighed plant by plant
  /// What one living plant cost; none: a price it is made of is not known.
  std::optional<double> cost_a_plant{};
  int died = 0;                  ///< in their beds
  int diseased = 0;              ///< plants with a disease noted
  std::vector<double> tastes{};  ///< the grower's scores, 0 to 10

  std::optional<double> mean() const {
    return plants > 0 ? std::optional(kilograms / plants) : std::nullopt;
  }
};

/// What a graft that lives costs: of a graft made / take rate (so published; arithmetic). None for
/// a rate of 0.
std::optional<double> cost_of_living_graft(double cost_of_graft_made, double take_rate);

/// Welch's 95 % interval for the difference of two means (Welch 1947, Biometrika 34:28); none with
/// fewer than two values on a side, or no scatter at all.
std::optional<Interval> welch(std::span<const double> a, std::span<const double> b,
                              double confidence = 0.95);

struct Worth {
  Crop grafted{}, own_rooted{};
  std::optional<double> more_kg{};         ///< a plant, grafted less own-rooted
  std::optional<Interval> between{};       ///< of that, 19 times in 20
  std::optional<double> more_cost{};       ///< a plant
  std::optional<double> cost_a_more_kg{};  ///< only where grafted plants gave more and cost more
  /// Kilograms for one unit of money spent on the plant, grafted less own-rooted, and between what
  /// it lies 19 times in 20; the costs count as known.
  std::optional<double> more_kg_for_money{};
  std::optional<Interval> between_for_money{};
};
Worth worth_of(const Crop& grafted, const Crop& own_rooted);

/// One honest paragraph with its numbers, also where little is known. `doubts` are further
/// sentences: what else may be the reason, what was left out.
std::string worth_text(const std::string& scion, const Worth& worth,
                       const std::vector<std::string>& doubts = {});

}  // namespace takehold::client
