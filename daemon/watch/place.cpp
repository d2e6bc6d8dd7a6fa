#include "daemon/watch/place.hpp"

namespace takehold::daemon {
namespace {

using sensors::Celsius;
using sensors::Pressure;
using sensors::RelativeHumidity;

/// All in one unit, whichever it is.
Place place_of(double low, double high, double deadband, double value) {
  if (value < low) return Place::below;
  if (value > high) return Place::above;
  const bool near_low = value < low + deadband;
  const bool near_high = value > high - deadband;
  if (near_low && near_high) {
    return value - low < high - value ? Place::low_edge : Place::high_edge;
  }
  if (near_low) return Place::low_edge;
  return near_high ? Place::high_edge : Place::inside;
}

}  // namespace

Place place_in(const std::optional<Band<Celsius>>& band, sensors::TemperatureSpan deadband,
               std::optional<Celsius> value) {
  if (!band) return Place::free;
  if (!value) return Place::unknown;
  return place_of(band->low.degc(), band->high.degc(), deadband.kelvin(), value->degc());
}

Place place_in(const std::optional<Band<RelativeHumidity>>& band, RelativeHumidity deadband,
               std::optional<RelativeHumidity> value) {
  if (!band) return Place::free;
  if (!value) return Place::unknown;
  return place_of(band->low.pct(), band->high.pct(), deadband.pct(), value->pct());
}

Place place_in(const std::optional<Band<Pressure>>& band, Pressure deadband,
               std::optional<Pressure> value) {
  if (!band) return Place::free;
  if (!value) return Place::unknown;
  return place_of(band->low.pa(), band->high.pa(), deadband.pa(), value->pa());
}

}  // namespace takehold::daemon
