#include "daemon/log/columns.hpp"

namespace takehold::daemon::columns {

using sensors::Celsius;
using sensors::RelativeHumidity;

std::optional<Celsius> celsius_of(const SQLite::Column& mdegc) {
  if (mdegc.isNull()) return std::nullopt;
  return Celsius::degc(double(mdegc.getInt64()) / 1000.0);
}

std::optional<RelativeHumidity> humidity_of(const SQLite::Column& mpct) {
  if (mpct.isNull()) return std::nullopt;
  return RelativeHumidity::pct(double(mpct.getInt64()) / 1000.0);
}

Warning warning_of(const SQLite::Statement& row, int first) {
  const auto column = [&](int i) { return row.getColumn(first + i); };
  Warning warning;
  warning.number = column(0).getInt64();
  warning.kind = static_cast<WarningKind>(column(1).getInt());
  warning.cause = static_cast<Cause>(column(2).getInt());
  if (!column(3).isNull()) warning.probe = column(3).getString();
  warning.about = column(4).getString();
  warning.below = column(5).getInt() != 0;
  warning.raised_at = instant_of(column(6).getInt64());
  warning.cleared_at = optional_instant(column(7));
  warning.acknowledged_at = optional_instant(column(8));
  warning.shelved_until = optional_instant(column(9));
  warning.text = column(10).getString();
  warning.breach_at = optional_instant(column(11));
  if (!column(12).isNull()) warning.follows = column(12).getInt64();
  return warning;
}

OccupantRecord occupant_of(const SQLite::Statement& row) {
  OccupantRecord occupant;
  occupant.label = row.getColumn(0).getString();
  occupant.book = row.getColumn(1).getString();
  occupant.revision = row.getColumn(2).getInt64();
  occupant.entered_at = instant_of(row.getColumn(3).getInt64());
  occupant.left_at = optional_instant(row.getColumn(4));
  occupant.body = row.getColumn(5).getString();
  return occupant;
}

LoggedReading reading_of(const SQLite::Statement& row) {
  LoggedReading logged;
  logged.row = row.getColumn(0).getInt64();
  logged.reading.at = instant_of(row.getColumn(1).getInt64());
  logged.reading.probe = row.getColumn(2).getString();
  logged.reading.temperature = celsius_of(row.getColumn(3));
  logged.reading.humidity = humidity_of(row.getColumn(4));
  logged.reading.quality = static_cast<sensors::Quality>(row.getColumn(5).getInt());
  return logged;
}

}  // namespace takehold::daemon::columns
