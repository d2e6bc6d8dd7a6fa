// Values to and from the columns of the chamber log. Only for the sources of this folder.
#pragma once

#include <SQLiteCpp/SQLiteCpp.h>

#include <cmath>
#include <cstdint>
#include <optional>

#include "daemon/log/records.hpp"

namespace takehold::daemon::columns {

inline std::int64_t ms_of(sensors::Instant at) {
  return at.time_since_epoch().count();
}
inline sensors::Instant instant_of(std::int64_t ms) {
  return sensors::Instant(std::chrono::milliseconds(ms));
}

template <class T>
void bind_optional(SQLite::Statement& statement, int index, const std::optional<T>& value) {
  if (value) {
    statement.bind(index, *value);
  } else {
    statement.bind(index);
  }
}

inline std::optional<std::int64_t> ms_of(const std::optional<sensors::Instant>& at) {
  if (!at) return std::nullopt;
  return ms_of(*at);
}

inline std::optional<sensors::Instant> optional_instant(const SQLite::Column& column) {
  if (column.isNull()) return std::nullopt;
  return instant_of(column.getInt64());
}

inline std::optional<std::int64_t> milli(const std::optional<sensors::Celsius>& value) {
  if (!value) return std::nullopt;
  return std::llround(value->degc() * 1000.0);
}

inline std::optional<std::int64_t> milli(const std::optional<sensors::RelativeHumidity>& value) {
  if (!value) return std::nullopt;
  return std::llround(value->pct() * 1000.0);
}

std::optional<sensors::Celsius> celsius_of(const SQLite::Column& mdegc);
std::optional<sensors::RelativeHumidity> humidity_of(const SQLite::Column& mpct);

/// Columns: number kind cause probe about below raised cleared acknowledged shelved text
/// breach follows.
Warning warning_of(const SQLite::Statement& row, int first);
/// Columns: label book revision entered left body.
OccupantRecord occupant_of(const SQLite::Statement& row);
/// Columns: row at probe-name temperature humidity quality.
LoggedReading reading_of(const SQLite::Statement& row);

inline constexpr const char* kWarningColumns =
    "number, kind, cause, warning.probe, warning.about, below, raised_at_ms, cleared_at_ms, "
    "acknowledged_at_ms, shelved_until_ms, warning.text, breach_at_ms, follows";

}  // namespace takehold::daemon::columns
