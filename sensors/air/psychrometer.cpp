#include "sensors/air/psychrometer.hpp"

#include <cmath>

#include "sensors/air/psychrometrics.hpp"

namespace takehold::sensors {
namespace {

double coefficient_per_k(Ventilation ventilation) {
  switch (ventilation) {
    case Ventilation::aspirated:
      return 0.000662;
    case Ventilation::natural:
      return 0.000800;
    case Ventilation::still:
      return 0.001200;
  }
  return 0.000662;
}

}  // namespace

Pressure pressure_at(Altitude altitude) {
  return Pressure::kpa(101.3 * std::pow((293.0 - 0.0065 * altitude.m()) / 293.0, 5.26));
}

Result<Pressure> vapour_pressure_by_wet_bulb(Celsius dry, Celsius wet, Pressure air,
                                             Ventilation ventilation) {
  if (wet > dry) {
    return Problem{"wet-bulb", "the wet bulb is warmer than the dry one", "", "",
                   "are the two thermometers swapped?"};
  }
  const Pressure vapour = saturation_vapour_pressure(wet) -
                          air * (coefficient_per_k(ventilation) * (dry - wet).kelvin());
  if (vapour < Pressure::pa(0.0)) {
    return Problem{"wet-bulb", "no air is so dry that its wet bulb reads so low", "", "",
                   "wet the wick, and read both thermometers again"};
  }
  return vapour;
}

Result<RelativeHumidity> humidity_by_wet_bulb(Celsius dry, Celsius wet, Pressure air,
                                              Ventilation ventilation) {
  const auto vapour = vapour_pressure_by_wet_bulb(dry, wet, air, ventilation);
  if (!vapour) return vapour.error();
  return relative_humidity(dry, *vapour);
}

}  // namespace takehold::sensors
