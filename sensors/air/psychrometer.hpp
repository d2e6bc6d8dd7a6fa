// Instruments older than electronics: two thermometers, one of them wet, and the height of the
// place. Allen, Pereira, Raes & Smith 1998, "Crop evapotranspiration", FAO Irrigation and Drainage
// Paper 56.
#pragma once

#include "sensors/quantity/length.hpp"
#include "sensors/quantity/moisture.hpp"
#include "sensors/quantity/problem.hpp"
#include "sensors/quantity/temperature.hpp"

namespace takehold::sensors {

/// Air pressure at a height above the sea (FAO-56 equation 7; 101.3 kPa at sea level there).
Pressure pressure_at(Altitude altitude);

/// How air moves past the wet bulb; it sets the instrument's coefficient (FAO-56 equation 16).
enum class Ventilation {
  aspirated,  ///< 0.000662 per degC: a fan, about 5 m/s
  natural,    ///< 0.000800: about 1 m/s
  still,      ///< 0.001200: indoors, no fan
};

/// Vapour pressure from both thermometers (FAO-56 equation 15). Refused, code "wet-bulb": a wet
/// bulb warmer than the dry one, or so much colder that no water would be left in the air.
Result<Pressure> vapour_pressure_by_wet_bulb(Celsius dry, Celsius wet, Pressure air,
                                             Ventilation ventilation = Ventilation::aspirated);

/// The same as relative humidity of the air at the dry bulb. Refused as above.
Result<RelativeHumidity> humidity_by_wet_bulb(Celsius dry, Celsius wet, Pressure air,
                                              Ventilation ventilation = Ventilation::aspirated);

}  // namespace takehold::sensors
