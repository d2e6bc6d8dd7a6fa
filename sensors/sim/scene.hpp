// One chamber, its probes and all that befalls them, moved along by a clock that is passed in.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "sensors/quantity/calendar.hpp"
#include "sensors/sim/fault.hpp"
#include "sensors/sim/probe.hpp"

namespace takehold::sensors {

/// A chamber that is opened little by little: what the humidifier holds moves evenly to `to`.
/// Written PCT@SECONDS+SECONDS, as 73@259200+345600.
struct Opening {
  std::chrono::seconds from;
  std::chrono::seconds length;
  RelativeHumidity to;
};

/// Code "bad-opening".
Result<Opening> parse_opening(std::string_view text);

struct SceneSettings {
  ChamberSettings chamber;
  int probes = 1;
  std::vector<Fault> faults;
  std::uint64_t seed = 1;
  bool extras = false;  ///< probes tell leaf temperature, carbon dioxide and light too
  Instant start;        ///< simulated; its time of day (UTC) is the room's
  std::optional<Opening> opening;
};

/// The chamber's own check, and a fault of a probe that is not there: code "no-probe".
Result<void> check(const SceneSettings& settings);

class Scene {
 public:
  /// `settings` must be checked.
  explicit Scene(const SceneSettings& settings);

  /// To the last whole second at or before `now`; an earlier `now` changes nothing.
  void advance_to(Instant now);

  int probes() const { return int(probes_.size()); }
  /// What the probe of that number (from 0) says; none while it is silent.
  std::optional<Decoded> says(int probe) const;
  const Chamber& chamber() const { return chamber_; }

 private:
  Upset upset() const;
  RelativeHumidity set_humidity() const;
  ProbeFaults faults_of(int probe) const;
  Extras extras() const;

  SceneSettings settings_;
  Chamber chamber_;
  std::vector<SimulatedProbe> probes_;
  std::chrono::seconds since_start_{0};
};

}  // namespace takehold::sensors
