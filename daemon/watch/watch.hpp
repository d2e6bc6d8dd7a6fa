// The watch over the chamber's air and its probes: readings in, warnings out.
//
// Plain: a quantity outside its band for longer than the on-delay, and a probe gone silent. No I/O
// and no clock: rounds of readings and the passing of time are told to it, in order. One owner.
#pragma once

#include <chrono>
#include <cstdint>
#include <functional>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "daemon/healing/band.hpp"
#include "daemon/watch/event.hpp"
#include "daemon/watch/excursion.hpp"
#include "daemon/watch/joint_air.hpp"
#include "daemon/watch/silence.hpp"
#include "sensors/quantity/reading.hpp"

namespace takehold::daemon {

struct WatchOptions {
  std::chrono::milliseconds on_delay{60000};
  sensors::TemperatureSpan temperature_deadband = sensors::TemperatureSpan::kelvin(0.3);
  sensors::RelativeHumidity humidity_deadband = sensors::RelativeHumidity::pct(1.0);
  sensors::Pressure deficit_deadband = sensors::Pressure::pa(30);
};

struct WatchedProbe {
  std::string name;
  std::chrono::milliseconds every{10000};
  bool in_chamber = true;  ///< its air is the chamber's; every probe is watched for silence
};

/// What the chamber should hold at one moment; none: nothing is asked for.
struct Bands {
  std::optional<Band<sensors::Celsius>> temperature;
  std::optional<Band<sensors::RelativeHumidity>> humidity;
  std::optional<Band<sensors::Pressure>> vapour_deficit;
};

class Watch {
 public:
  /// `start`: silence is counted from here. `last_number`: of the newest warning of the log.
  Watch(WatchOptions options, const std::vector<WatchedProbe>& probes, sensors::Instant start,
        std::int64_t last_number);

  /// Goes on with a warning that stood when the log was last closed.
  void resume(const Warning& warning);

  /// One round of readings, all of `at`.
  std::vector<Event> see(sensors::Instant at, std::span<const sensors::Reading> readings,
                         const Bands& bands);
  /// Time passed without readings, or the bands changed.
  std::vector<Event> wait(sensors::Instant at, const Bands& bands);
  /// When to call wait, if nothing comes before.
  std::optional<sensors::Instant> due() const;

  Air air(sensors::Instant now) const { return joint_air_.at(now); }
  /// Standing ones and those cleared but not acknowledged, oldest first; of the latter a bounded
  /// number.
  const std::vector<Warning>& warnings() const { return warnings_; }

  /// The warning after the change; none: no such warning is kept.
  std::optional<Warning> acknowledge(std::int64_t number, sensors::Instant at);
  std::optional<Warning> shelve(std::int64_t number, sensors::Instant until);

 private:
  struct Judged {
    const char* about;
    Excursion excursion;
    std::optional<std::int64_t> number;  ///< of the standing warning
  };
  struct Listened {
    Silence silence;
    std::optional<std::int64_t> number;
  };

  void judge(Judged& judged, sensors::Instant at, Place place, const std::string& value,
             std::vector<Event>& events);
  void judge_air(sensors::Instant at, const Bands& bands, std::vector<Event>& events);
  void judge_silence(sensors::Instant at, std::vector<Event>& events);
  std::int64_t raise(Warning warning, sensors::Instant at, std::vector<Event>& events);
  void clear(std::optional<std::int64_t>& number, sensors::Instant at, std::string text,
             std::vector<Event>& events);
  void forget_surplus();
  Warning* find(std::int64_t number);

  WatchOptions options_;
  std::int64_t last_number_;
  JointAir joint_air_;
  Judged temperature_;
  Judged humidity_;
  Judged deficit_;
  std::map<std::string, Listened> probes_;
  std::vector<Warning> warnings_;
};

}  // namespace takehold::daemon
