// A regime: the stages by which grafts are healed, each with the air it asks for. What a grower is
// shown as the healing plan.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "daemon/healing/band.hpp"
#include "sensors/quantity/calendar.hpp"

namespace takehold::daemon {

enum class StagePlace { chamber, bench };

/// What a stage asks for is optional throughout: what is not given is not judged. A night's band is
/// only of a quantity that has a day's, and only in a regime that says when it is day.
struct Stage {
  std::string name;  ///< closed, venting, shaded, hardening ...; unique in its regime
  StagePlace where = StagePlace::chamber;
  std::chrono::minutes length{0};  ///< elapsed time, more than nothing
  std::optional<Ramp<sensors::Celsius>> temperature;
  std::optional<Ramp<sensors::RelativeHumidity>> humidity;  ///< this or the next, not both
  std::optional<Ramp<sensors::Pressure>> vapour_deficit;    ///< of the air, not of the leaf
  std::optional<Band<sensors::PhotonFlux>> light;           ///< advice: it is not measured
  std::optional<Ramp<sensors::Celsius>> night_temperature;  ///< none: as by day
  std::optional<Ramp<sensors::RelativeHumidity>> night_humidity;
  std::optional<Ramp<sensors::Pressure>> night_vapour_deficit;
  std::vector<std::string> tasks;  ///< sentences; when to do them is told by chore_of (chore.hpp)
  /// What should be seen before the next stage begins, a sentence; empty: its time alone counts.
  /// The grower is asked to hold the stage while it was not seen; nothing advances by it.
  std::string advance_when;

  /// A band moves while it lasts; by night it may be another besides.
  bool moves() const;
  friend bool operator==(const Stage&, const Stage&) = default;
};

/// When it is day by the grower's wall clock, the same every day. A night may go over midnight.
struct DayHours {
  std::chrono::minutes begins{0};  ///< since midnight
  std::chrono::minutes ends{0};

  friend bool operator==(const DayHours&, const DayHours&) = default;
};

struct Regime {
  std::string name;
  std::string source;                ///< published, common practice or own: said to the grower
  std::vector<std::string> methods;  ///< of grafting it suits; empty: any
  std::vector<Stage> stages;         ///< at least one
  std::optional<DayHours> day{};     ///< none: nights are as days
  std::string time_zone{};           ///< of `day`; empty: UTC, until a batch gets the plan

  friend bool operator==(const Regime&, const Regime&) = default;
};

/// All stages together, as long as nobody intervenes.
std::chrono::minutes whole_length(const Regime& regime);

/// What a grower decided by hand about one batch.
enum class EventKind {
  advance,  ///< the next stage begins now
  hold,     ///< the present stage lasts `longer`
  back,     ///< the stage before begins again in full; in the first stage, that one
};

struct ManualEvent {
  EventKind kind;
  sensors::Instant at;
  std::chrono::minutes longer{0};  ///< of a hold

  friend bool operator==(const ManualEvent&, const ManualEvent&) = default;
};

constexpr std::string_view to_string(StagePlace place) {
  return place == StagePlace::chamber ? "chamber" : "bench";
}
constexpr std::string_view to_string(EventKind kind) {
  switch (kind) {
    case EventKind::advance:
      return "advance";
    case EventKind::hold:
      return "hold";
    case EventKind::back:
      return "back";
  }
  return "hold";
}
std::optional<StagePlace> stage_place(std::string_view text);
std::optional<EventKind> event_kind(std::string_view text);

}  // namespace takehold::daemon
