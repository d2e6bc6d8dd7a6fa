// Calendar files as RFC 5545 has them (iCalendar).
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "sensors/quantity/calendar.hpp"

namespace takehold::client {

/// A thing of one whole day.
struct DayEvent {
  std::string uid;   ///< the same for the same thing at every export
  int sequence = 0;  ///< rises with every change of it (section 3.8.7.4)
  sensors::Day on;
  std::string summary;
  std::string description;  ///< may be empty
  bool rings = true;        ///< with an alarm at 7:00 of the day
  bool cancelled = false;   ///< takes an event of an earlier file out again; never rings
};

/// A whole VCALENDAR: CRLF, lines folded at 75 octets and never inside a character, text escaped.
/// `made_at` becomes DTSTAMP.
std::string ics_text(std::span<const DayEvent> events, std::string_view calendar_name,
                     sensors::Instant made_at);

}  // namespace takehold::client
