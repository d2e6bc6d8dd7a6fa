// Which time zone a new book is made with.
#pragma once

#include <optional>
#include <string>

#include "sensors/quantity/time_zone.hpp"

namespace takehold::client {

/// The setting; else $TZ, if it names a zone; else the machine's (/etc/localtime, /etc/timezone);
/// else UTC. Throws Refused "unknown-time-zone" for a setting that names none.
sensors::TimeZone zone_of_new_book(const std::optional<std::string>& setting);

}  // namespace takehold::client
