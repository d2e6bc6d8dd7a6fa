#include "daemon/log/beside.hpp"

#include <cmath>

#include "daemon/log/columns.hpp"

namespace takehold::daemon {
namespace {

using sensors::Reading;

enum class Beside { leaf_temperature = 1, co2 = 2, light = 3, told_humidity = 4 };

void write_one(SQLite::Database& database, LogRow row, Beside kind, double value) {
  SQLite::Statement put(database, "INSERT INTO beside VALUES (?,?,?)");
  put.bind(1, row);
  put.bind(2, static_cast<int>(kind));
  put.bind(3, static_cast<std::int64_t>(std::llround(value * 1000.0)));
  put.exec();
}

void put_beside(Reading& reading, const SQLite::Column& kind, const SQLite::Column& milli) {
  const double value = double(milli.getInt64()) / 1000.0;
  auto& extras = reading.extras;
  switch (static_cast<Beside>(kind.getInt())) {
    case Beside::leaf_temperature:
      extras.leaf_temperature = sensors::Celsius::degc(value);
      break;
    case Beside::co2:
      extras.co2 = sensors::CarbonDioxide::ppm(value);
      break;
    case Beside::light:
      extras.light = sensors::PhotonFlux::umol(value);
      break;
    case Beside::told_humidity:
      reading.raw.humidity = sensors::RelativeHumidity::pct(value);
      break;
  }
}

/// A humidity clipped to the ends of its scale.
bool is_clipped(const Reading& reading) {
  return reading.humidity && reading.raw.humidity &&
         (reading.humidity->pct() >= 100.0 || reading.humidity->pct() <= 0.0) &&
         *reading.raw.humidity != *reading.humidity;
}

}  // namespace

void write_beside(SQLite::Database& database, const Reading& reading, LogRow row) {
  const auto& extras = reading.extras;
  if (extras.leaf_temperature) {
    write_one(database, row, Beside::leaf_temperature, extras.leaf_temperature->degc());
  }
  if (extras.co2) write_one(database, row, Beside::co2, extras.co2->ppm());
  if (extras.light) write_one(database, row, Beside::light, extras.light->umol());
  if (is_clipped(reading)) {
    write_one(database, row, Beside::told_humidity, reading.raw.humidity->pct());
  }
}

void read_beside(SQLite::Database& database, LoggedReading& logged) {
  SQLite::Statement look(database, "SELECT kind, value_milli FROM beside WHERE reading = ?");
  look.bind(1, logged.row);
  while (look.executeStep()) put_beside(logged.reading, look.getColumn(0), look.getColumn(1));
}

BesideRows::BesideRows(SQLite::Database& database)
    : look_(database,
            "SELECT kind, value_milli, reading FROM beside WHERE reading >= ? AND reading <= ?") {}

void BesideRows::fill(std::span<RawRow> rows) {
  if (rows.empty()) return;
  look_.reset();
  look_.bind(1, rows.front().row);
  look_.bind(2, rows.back().row);
  auto row = rows.begin();
  while (look_.executeStep()) {
    const auto number = look_.getColumn(2).getInt64();
    while (row != rows.end() && row->row < number) ++row;
    if (row == rows.end()) return;
    if (row->row != number) continue;  // another probe's
    put_beside(row->reading, look_.getColumn(0), look_.getColumn(1));
  }
}

void note_calibration(SQLite::Database& database, std::int64_t probe, LogRow row,
                      const sensors::Calibration& calibration) {
  const auto& temperature = calibration.temperature;
  const auto& humidity = calibration.humidity;
  std::optional<std::string> day;
  if (calibration.done_on) day = sensors::to_string(*calibration.done_on);
  SQLite::Statement put(
      database,
      "INSERT INTO calibration SELECT ?1, ?2, ?3, ?4, ?5, ?6, ?7 WHERE NOT EXISTS (SELECT 1 FROM "
      "calibration WHERE probe = ?1 AND after_row = (SELECT max(after_row) FROM calibration WHERE "
      "probe = ?1) AND temperature_gain = ?3 AND temperature_offset = ?4 AND humidity_gain = ?5 "
      "AND "
      "humidity_offset = ?6 AND done_on IS ?7) ON CONFLICT (probe, after_row) DO UPDATE SET "
      "temperature_gain = ?3, temperature_offset = ?4, humidity_gain = ?5, humidity_offset = ?6, "
      "done_on = ?7");
  put.bind(1, probe);
  put.bind(2, row);
  put.bind(3, temperature.gain);
  put.bind(4, temperature.offset);
  put.bind(5, humidity.gain);
  put.bind(6, humidity.offset);
  columns::bind_optional(put, 7, day);
  put.exec();
}

}  // namespace takehold::daemon
