// One look at the air by one probe.
#pragma once

#include <optional>
#include <string>

#include "sensors/quantity/calendar.hpp"
#include "sensors/quantity/growth.hpp"
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

/// What a probe may tell beside the air. Kept and shown; nothing is steered by it.
struct Extras {
  std::optional<Celsius> leaf_temperature;
  std::optional<CarbonDioxide> co2;
  std::optional<PhotonFlux> light;

  bool any() const { return leaf_temperature || co2 || light; }
  friend bool operator==(const Extras&, const Extras&) = default;
};

/// The air as the probe itself told it, before calibration and clipping.
struct RawAir {
  std::optional<Celsius> temperature;
  std::optional<RelativeHumidity> humidity;
  friend bool operator==(const RawAir&, const RawAir&) = default;
};

/// What a probe said. Any value may be missing; a probe that only knows warmth is a good probe.
struct Reading {
  std::string probe;
  Instant at;
  std::optional<Celsius> temperature;
  std::optional<RelativeHumidity> humidity;
  Quality quality = Quality::good;
  Extras extras = {};
  RawAir raw = {};  ///< filled where the reading is corrected (sensors/check)

  bool is_empty() const { return !temperature && !humidity && !extras.any(); }
};

constexpr const char* to_string(Quality quality) {
  switch (quality) {
    case Quality::good:
      return "good";
    case Quality::suspect:
      return "suspect";
    case Quality::bad:
      return "bad";
    case Quality::none:
      return "none";
  }
  return "none";
}

}  // namespace takehold::sensors
