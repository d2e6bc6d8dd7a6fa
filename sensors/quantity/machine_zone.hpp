// The time zone of the machine we run on.
#pragma once

#include "sensors/quantity/time_zone.hpp"

namespace takehold::sensors {

/// $TZ, if it names a zone; else what /etc/localtime or /etc/timezone names; else UTC.
TimeZone machine_zone();

}  // namespace takehold::sensors
