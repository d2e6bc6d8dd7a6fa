// The sentences of the watch: what a grower reads at arm's length.
#pragma once

#include <chrono>
#include <string>

#include "daemon/healing/band.hpp"
#include "daemon/watch/excursion.hpp"
#include "sensors/quantity/moisture.hpp"
#include "sensors/quantity/temperature.hpp"

namespace takehold::daemon {

std::string worded(sensors::Celsius value);           ///< "24.1 degC"
std::string worded(sensors::RelativeHumidity value);  ///< "96.4 %"
std::string worded(sensors::Pressure value);          ///< "0.42 kPa"
std::string worded(std::chrono::milliseconds span);   ///< "90 s", "12 min", "3 h"

std::string worded(const Band<sensors::Celsius>& band);           ///< "22-29 degC"
std::string worded(const Band<sensors::RelativeHumidity>& band);  ///< "95-100 %"
std::string worded(const Band<sensors::Pressure>& band);          ///< "0.10-0.40 kPa"

}  // namespace takehold::daemon
