// What the watch has to say, and the warnings it keeps.
//
// Numbers behind these words are stored and sent: never renumber.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "sensors/quantity/calendar.hpp"

namespace takehold::daemon {

enum class EventType { warning = 1, cleared = 2, stage = 3 };
enum class WarningKind { outside = 1, drift = 2, probe = 3, conflict = 4 };
enum class Cause {
  unknown = 0,
  drying = 1,
  warming = 2,
  cooling = 3,
  opened = 4,
  saturated = 5,
  cycling = 6,
  silent = 20,
  stuck = 21,
  jumping = 22,
  range = 23,
  disagrees = 24,
  wet = 25,
};

/// How much it matters (grade.hpp). A standing warning's grade only rises.
enum class Grade { mild = 1, serious = 2, dangerous = 3 };

const char* to_string(EventType type);
const char* to_string(WarningKind kind);
const char* to_string(Cause cause);

/// A warning from the moment it was raised; it stays in the log for good.
struct Warning {
  std::int64_t number = 0;  ///< W1, W2 ...: one counter for the life of the log
  WarningKind kind = WarningKind::outside;
  Cause cause = Cause::unknown;
  std::optional<std::string> probe;  ///< none: the chamber's joint air
  std::string about;                 ///< temperature, humidity, vapour_pressure, or a batch
  bool below = false;                ///< of the air: at the band's low limit
  Grade grade = Grade::serious;      ///< not kept in the log
  sensors::Instant raised_at;
  std::optional<sensors::Instant> cleared_at;
  std::optional<sensors::Instant> acknowledged_at;
  std::optional<sensors::Instant> shelved_until;
  std::optional<sensors::Instant> breach_at;  ///< of a drift: when the air leaves its band
  std::optional<std::int64_t> follows;        ///< number of the drift that foretold it
  std::string text;

  std::string id() const { return "W" + std::to_string(number); }
  bool standing() const { return !cleared_at; }
};

/// Something happened at `at`.
struct Event {
  sensors::Instant at;
  EventType type = EventType::warning;
  std::optional<Warning> warning;  ///< of warning and cleared, as it stands after the event
  std::string about;               ///< of stage: the batch's label
  std::string text;
};

}  // namespace takehold::daemon
