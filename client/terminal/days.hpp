// Days and moments as a reader likes to see them.
//
// In files, in JSON and as typed they are 2027-04-12: 04/12 read by another eye is December.
#pragma once

#include <string>

#include "client/season/words.hpp"
#include "sensors/quantity/time_zone.hpp"

namespace takehold::client {

/// "2027-04-12", "12.04.2027" or "04/12/2027".
std::string shown(sensors::Day day, DateOrder order);
/// "Mon 2027-04-12"
std::string shown_with_weekday(sensors::Day day, DateOrder order);
/// Day and wall clock in this zone: "2027-04-12 09:30".
std::string shown(sensors::Instant instant, const sensors::TimeZone& zone, DateOrder order);

}  // namespace takehold::client
