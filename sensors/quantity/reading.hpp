// One look at the air by one probe.
#pragma once

#include <optional>
#include <string>

#include "sensors/quantity/calendar.hpp"
#include "sensors/quantity/moisture.hpp"
#include "sensors/quantity/temperature.hpp"

namespace takehold::sensors {

/// How far a reading may be trusted. Numbers are stored: never renumber.
enum class Quality {
  good = 0,     ///< use it
  suspect = 1,  ///< keep and show it, steer by nothing of it
  bad = 2,      ///< outside what the air or the probe can be
  none = 3,     ///< the probe gave nothing
};

/// What a probe said. Either value may be missing; a probe that only knows warmth is a good probe.
struct Reading {
  std::string probe;
  Instant at;
  std::optional<Celsius> temperature;
  std::optional<RelativeHumidity> humidity;
  Quality quality = Quality::good;
};

constexpr const char* to_string(Quality quality) {
  switch (quality) {
    case Quality::good: return "good";
    case Quality::suspect: return "suspect";
    case Quality::bad: return "bad";
    case Quality::none: return "none";
  }
  return "none";
}

}  // namespace takehold::sensors
