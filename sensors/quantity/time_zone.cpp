#include "sensors/quantity/time_zone.hpp"

#include <date/tz.h>

namespace takehold::sensors {
namespace {

const date::time_zone& zone_of(const void* zone) {
  return *static_cast<const date::time_zone*>(zone);
}

std::chrono::milliseconds local_time(const void* zone, Instant instant) {
  const auto info = zone_of(zone).get_info(std::chrono::floor<std::chrono::seconds>(instant));
  return instant.time_since_epoch() + info.offset;
}

}  // namespace

Result<TimeZone> TimeZone::named(std::string_view name) {
  try {
    return TimeZone(std::string(name), date::locate_zone(name));
  } catch (const std::runtime_error&) {
    return Problem{"unknown-time-zone", "no such time zone", "\"" + std::string(name) + "\"", "",
                   "names look like Europe/Lisbon"};
  }
}

TimeZone TimeZone::utc() { return named("UTC").value(); }

Day TimeZone::day_of(Instant instant) const {
  return Day(std::chrono::floor<Days>(local_time(zone_, instant)));
}

std::chrono::milliseconds TimeZone::wall_time(Instant instant) const {
  const auto local = local_time(zone_, instant);
  return local - std::chrono::floor<Days>(local);
}

Instant TimeZone::at(Day day, std::chrono::minutes time) const {
  const date::local_seconds wall(day.time_since_epoch() + time);
  const auto info = zone_of(zone_).get_info(wall);
  if (info.result == date::local_info::nonexistent) return Instant(info.first.end);
  return Instant(wall.time_since_epoch() - info.first.offset);
}

std::string TimeZone::local_text(Instant instant) const {
  return to_string(day_of(instant)) + " " + local_clock(instant);
}

std::string TimeZone::local_clock(Instant instant) const {
  const auto minutes = std::chrono::floor<std::chrono::minutes>(wall_time(instant)).count();
  const auto two = [](long n) { return (n < 10 ? "0" : "") + std::to_string(n); };
  return two(minutes / 60) + ":" + two(minutes % 60);
}

}  // namespace takehold::sensors
