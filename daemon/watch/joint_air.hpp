// The air of the chamber as one: the mean of what its trusted probes last said.
//
// A probe counts while its last good reading is younger than its silence limit. No I/O; times are
// passed in and never go back.
#pragma once

#include <chrono>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "sensors/quantity/reading.hpp"

namespace takehold::daemon {

struct Air {
  std::optional<sensors::Celsius> temperature;
  std::optional<sensors::RelativeHumidity> humidity;
};

class JointAir {
 public:
  /// A probe of the chamber, and how long its word holds.
  void add_probe(const std::string& name, std::chrono::milliseconds holds);
  /// Readings of other probes, and those that are bad or empty, are passed over. A suspect reading
  /// ends the trust in what its probe said before.
  void see(const sensors::Reading& reading);
  /// Either value is missing when no trusted probe knows it. Humidity is at most 100 %: probes
  /// overshoot in saturated air, and no band can ask for more.
  Air at(sensors::Instant now) const;
  /// What each suspect probe last said: for when there is no trusted one, and the worse of them
  /// counts.
  std::vector<Air> disputed(sensors::Instant now) const;

 private:
  struct Last {
    std::chrono::milliseconds holds{0};
    std::optional<sensors::Reading> reading;  ///< good or suspect
  };
  std::map<std::string, Last> probes_;
};

}  // namespace takehold::daemon
