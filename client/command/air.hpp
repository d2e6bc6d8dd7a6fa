// `takehold air`: what this air is.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>

#include "sensors/air/psychrometrics.hpp"
#include "sensors/quantity/length.hpp"

namespace takehold::client {

struct AirQuestion {
  sensors::Celsius temperature;
  sensors::RelativeHumidity humidity;
  std::optional<sensors::Celsius> leaf;
  std::optional<sensors::Altitude> altitude;
};

struct AirAnswer {
  AirQuestion asked;
  sensors::Pressure pressure;  ///< of the air: by altitude, or standard
  sensors::AirState air;
  std::optional<sensors::Pressure> leaf_deficit;
};

/// Code "out-of-range" outside -40..100 °C, where the formulas do not hold.
AirAnswer air(const AirQuestion& question);

nlohmann::json to_json(const AirAnswer& answer);

}  // namespace takehold::client
