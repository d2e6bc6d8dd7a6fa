// The grower's time zone: which Day an Instant falls on, and which Instant a wall clock means.
#pragma once

#include <chrono>
#include <memory>
#include <string>
#include <string_view>

#include "sensors/quantity/calendar.hpp"

namespace takehold::sensors {

/// A named zone of the tz database. Cheap to copy; safe to share between threads.
class TimeZone {
 public:
  /// "Europe/Lisbon", "UTC". Unknown names: code "unknown-time-zone".
  static Result<TimeZone> named(std::string_view name);
  static TimeZone utc();

  const std::string& name() const { return name_; }

  Day day_of(Instant instant) const;
  /// Time since local midnight as the wall clock shows it.
  std::chrono::milliseconds wall_time(Instant instant) const;
  /// The instant at which the wall clock shows `time` on `day`. A time skipped in spring means the
  /// moment of the change; a time that comes twice in autumn means the first.
  Instant at(Day day, std::chrono::minutes time) const;
  Instant noon(Day day) const { return at(day, std::chrono::hours(12)); }

  /// "2027-04-12 09:30" as the wall clock shows it.
  std::string local_text(Instant instant) const;
  /// "09:30"
  std::string local_clock(Instant instant) const;

 private:
  TimeZone(std::string name, const void* zone) : name_(std::move(name)), zone_(zone) {}
  std::string name_;
  const void* zone_;  ///< a date::time_zone of the library's own, never freed
};

}  // namespace takehold::sensors
