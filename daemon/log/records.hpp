// What the chamber log keeps, as plain values.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "daemon/watch/event.hpp"
#include "sensors/quantity/reading.hpp"

namespace takehold::daemon {

/// Names a place in the whole history: readings and events share one rising counter.
using LogRow = std::int64_t;

struct LoggedReading {
  LogRow row = 0;
  sensors::Reading reading;
};

struct LoggedEvent {
  LogRow row = 0;
  Event event;
};

/// One commit: what was written, with its rows.
struct LoggedRound {
  std::vector<LoggedReading> readings;
  std::vector<LoggedEvent> events;
};

/// A time that nobody watched. The numbers are stored.
struct Gap {
  enum class Why { not_running = 1, given_up = 2 };
  sensors::Instant from;
  sensors::Instant to;
  Why why = Why::not_running;
};

/// A batch as its book last described it. `body` is the message, JSON.
struct OccupantRecord {
  std::string label;
  std::string book;
  std::int64_t revision = 0;
  sensors::Instant entered_at;
  std::optional<sensors::Instant> left_at;
  std::string body;
};

/// Readings of [from, to) gathered into one bucket of a chart. All missing: a gap.
struct Bucket {
  sensors::Instant from;
  struct Spread {
    double mean, low, high;  ///< in the unit of the quantity
  };
  std::optional<Spread> temperature_degc;
  std::optional<Spread> humidity_pct;
  std::optional<Spread> leaf_temperature_degc;
  std::optional<Spread> co2_ppm;
  std::optional<Spread> light_umol;
};

}  // namespace takehold::daemon
