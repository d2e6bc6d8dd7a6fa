// The air of the chamber in words for a page, and whether it is right.
#pragma once

#include <string>

#include "daemon/api/status_message.hpp"
#include "daemon/settings/settings.hpp"
#include "sensors/quantity/time_zone.hpp"

namespace takehold::daemon {

double page_number(sensors::Celsius t, ShownUnits units);
const char* degree_name(ShownUnits units);  ///< "°C" or "°F"

struct Verdict {
  const char* style;  ///< right | wrong | unknown: a class of the style sheet
  std::string words;
};

/// "Right for the batches in it", or each quantity that is not.
Verdict verdict_of(const StatusMessage& status, ShownUnits units);

/// "25.0 °C, 97 %, right": for the tab of a browser.
std::string title_of(const StatusMessage& status, ShownUnits units);

/// Temperature, humidity and vapour pressure deficit, each with its band and where in it it stands.
std::string air_now(const StatusMessage& status, ShownUnits units);

/// What a probe said last, when, and how far it can be trusted.
std::string probe_words(const ProbeMessage& probe, ShownUnits units, const sensors::TimeZone& zone);

}  // namespace takehold::daemon
