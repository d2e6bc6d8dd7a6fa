// How a stem thickens, and when it can be grafted.
#pragma once

#include <optional>

#include "client/growth/emergence.hpp"
#include "client/growth/warmth.hpp"
#include "sensors/quantity/length.hpp"

namespace takehold::client {

/// Gompertz growth of the diameter below the cotyledons against the heat sum since emergence:
/// D = A (D0/A)^exp(-k v x). The shape is published (Hsieh et al. 2021), the numbers are assumed.
struct StemGrowth {
  sensors::Millimetres asymptote = sensors::Millimetres::mm(7.0);     ///< A
  sensors::Millimetres at_emergence = sensors::Millimetres::mm(1.1);  ///< D0
  double rate_per_degc_day = 0.0026;                                  ///< k

  /// `vigour` is v: 1 for an average lot.
  sensors::Millimetres diameter(sensors::ThermalTime since_emergence, double vigour = 1) const;
  /// ln of the same in millimetres, cheaper.
  double ln_mm(sensors::ThermalTime since_emergence, double vigour = 1) const;
  /// The inverse: nothing at or above the asymptote, zero at or below D0.
  std::optional<sensors::ThermalTime> heat_to(sensors::Millimetres diameter,
                                              double vigour = 1) const;
  /// d ln D / d ln x at that heat: by how many percent D changes with one percent of heat or
  /// vigour.
  double sensitivity(sensors::ThermalTime since_emergence, double vigour = 1) const;
};

inline constexpr double kVigourSd = 0.20;    ///< sd of a lot's ln v (assumed)
inline constexpr double kSeedlingSd = 0.10;  ///< sd of a seedling's ln s_i (assumed)

/// When a stem may be grafted: two to three true leaves (heat, assumed) and a diameter that
/// published clips hold.
struct Graftable {
  sensors::ThermalTime heat = sensors::ThermalTime::degc_days(120);
  sensors::Millimetres thinnest = sensors::Millimetres::mm(1.5);
  sensors::Millimetres thickest = sensors::Millimetres::mm(2.6);

  bool holds(sensors::ThermalTime since_emergence, sensors::Millimetres diameter) const;
};

/// A lot's speed: what multiplies the time to emergence, and the heat thereafter.
struct LotSpeed {
  double emergence = 1;
  double vigour = 1;
};

/// The average lot of a species before anything was measured.
LotSpeed average_speed(Species species);

/// One seedling of the lot at one age.
struct Seedling {
  sensors::ThermalTime heat;  ///< since it came up
  sensors::Millimetres diameter;
};

/// The lot's middle seedling at `age`; nothing while it is not up.
std::optional<Seedling> middle_seedling(const Course& course, const LotSpeed& speed,
                                        const StemGrowth& stem, Age age);
/// The age at which the lot's middle seedling reaches a diameter; nothing if the course ends first.
std::optional<Age> age_at_diameter(const Course& course, const LotSpeed& speed,
                                   const StemGrowth& stem, sensors::Millimetres diameter);

}  // namespace takehold::client
