// Where a value stands against its band.
#pragma once

#include <optional>

#include "daemon/healing/band.hpp"
#include "daemon/watch/excursion.hpp"
#include "sensors/quantity/moisture.hpp"
#include "sensors/quantity/temperature.hpp"

namespace takehold::daemon {

/// `deadband` is how far inside its limit a value has to come back. A band narrower than two
/// deadbands has no inside: its halves are the edges of the nearer limit.
Place place_in(const std::optional<Band<sensors::Celsius>>& band, sensors::TemperatureSpan deadband,
               std::optional<sensors::Celsius> value);
Place place_in(const std::optional<Band<sensors::RelativeHumidity>>& band,
               sensors::RelativeHumidity deadband, std::optional<sensors::RelativeHumidity> value);
Place place_in(const std::optional<Band<sensors::Pressure>>& band, sensors::Pressure deadband,
               std::optional<sensors::Pressure> value);

}  // namespace takehold::daemon
