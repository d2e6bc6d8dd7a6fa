// The watch over the chamber's air and its probes: readings in, warnings out.
//
// A quantity outside its band for longer than the on-delay, or on its way out; a probe that cannot
// be trusted. No I/O and no clock: rounds of readings and the passing of time are told to it, in
// order. One owner.
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
#include "daemon/watch/air_trends.hpp"
#include "daemon/watch/event.hpp"
#include "daemon/watch/joint_air.hpp"
#include "daemon/watch/quantity_watch.hpp"
#include "daemon/watch/silence.hpp"
#include "daemon/watch/visit.hpp"
#include "daemon/watch/warning_list.hpp"
#include "sensors/check/probe_checks.hpp"
#include "sensors/quantity/reading.hpp"

namespace takehold::daemon {

struct WatchOptions {
  std::chrono::milliseconds on_delay{60000};
  std::chrono::milliseconds horizon{30 * 60000};  ///< how far ahead drifts are looked for
  sensors::TemperatureSpan temperature_deadband = sensors::TemperatureSpan::kelvin(0.3);
  sensors::RelativeHumidity humidity_deadband = sensors::RelativeHumidity::pct(1.0);
  sensors::Pressure deficit_deadband = sensors::Pressure::pa(30);
};

struct WatchedProbe {
  std::string name;
  std::chrono::milliseconds every{10000};
  std::string place = "chamber";  ///< or a bench's name: only the chamber's air is judged

  bool in_chamber() const { return place == "chamber"; }
};

/// What the chamber should hold at one moment; none: nothing is asked for.
/// A batch whose band does not meet the others'.
struct Compromised {
  std::string label;
  std::string text;  ///< with whom it collides, and how much it must bear
};

struct Bands {
  std::optional<Band<sensors::Celsius>> temperature;
  std::optional<Band<sensors::RelativeHumidity>> humidity;
  std::optional<Band<sensors::Pressure>> vapour_deficit;
  std::string at_risk;  ///< the batches inside, each with its stage
  std::optional<sensors::Instant> youngest_entered;
  std::vector<Compromised> conflicts;
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

  /// The readings of the last round, those of probes that cannot be trusted marked as suspect.
  const std::vector<sensors::Reading>& believed() const { return believed_; }
  /// Why a suspect reading is not believed, for people; empty: it is good, or not for us to say.
  std::string doubt(const sensors::Reading& reading) const;
  /// Where the air is going, and what is usual for it.
  const AirTrends& trends() const { return trends_; }
  Air air(sensors::Instant now) const { return joint_air_.at(now); }
  const std::vector<Warning>& warnings() const { return warnings_.all(); }

  /// The warning after the change; none: no such warning is kept.
  std::optional<Warning> acknowledge(std::int64_t number, sensors::Instant at) {
    return warnings_.acknowledge(number, at);
  }
  std::optional<Warning> shelve(std::int64_t number, sensors::Instant until) {
    return warnings_.shelve(number, until);
  }

 private:
  struct Listened {
    Silence silence;
    std::optional<std::int64_t> silent;  ///< number of the standing warning
    std::optional<std::int64_t> faulty;
    Cause fault = Cause::unknown;                   ///< what `faulty` says
    std::optional<sensors::Instant> other_since{};  ///< the verdict has been another one
  };

  void hear(const sensors::Reading& reading, sensors::Instant at, std::vector<Event>& events);
  void judge_air(sensors::Instant at, const Bands& bands, std::vector<Event>& events);
  void judge_silence(sensors::Instant at, std::vector<Event>& events);
  void judge_conflicts(sensors::Instant at, const Bands& bands, std::vector<Event>& events);
  void judge_probes(sensors::Instant at, std::vector<Event>& events);
  std::vector<Air> airs_that_count(sensors::Instant at) const;

  WatchOptions options_;
  WarningList warnings_;
  JointAir joint_air_;
  AirTrends trends_;
  QuantityWatch temperature_;
  QuantityWatch humidity_;
  QuantityWatch deficit_;
  std::map<std::string, Listened> probes_;
  std::map<std::string, std::optional<std::int64_t>> conflicts_;  ///< by batch
  sensors::ProbeChecks checks_;
  std::vector<sensors::Reading> believed_;
  Visit visit_;
};

}  // namespace takehold::daemon
