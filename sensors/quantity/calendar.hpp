// Instants and days, and how they are written.
//
// An Instant is a point on the world's one time line (UTC, milliseconds). A Day is a date on the
// grower's wall calendar and has no time zone of its own; TimeZone joins the two.
#pragma once

#include <chrono>
#include <string>
#include <string_view>

#include "sensors/quantity/problem.hpp"

namespace takehold::sensors {

using Instant = std::chrono::sys_time<std::chrono::milliseconds>;
using Day = std::chrono::local_days;
using Days = std::chrono::days;

/// "2027-04-12", nothing before or after. Dates that do not exist are refused: code "bad-date".
Result<Day> parse_day(std::string_view text);
/// RFC 3339 with "Z" or an offset, up to milliseconds kept: code "bad-instant". A time without
/// offset is refused, saying why.
Result<Instant> parse_instant(std::string_view text);

std::string to_string(Day day);                ///< "2027-04-12"
std::string to_string(Instant instant);        ///< "2027-04-12T09:30:00Z", with ".250" if not whole
std::string weekday_name(Day day);             ///< "Mon"
int year_of(Day day);           ///< 2027

/// Year, month, day as a Day; the date must exist.
Day make_day(int year, unsigned month, unsigned day);

}  // namespace takehold::sensors
