// Readings for tests of the log.
#pragma once

#include "daemon/log/chamber_log.hpp"
#include "daemon/log/log_reader.hpp"
#include "tests/support/running_program.hpp"

namespace takehold::daemon {

using namespace std::chrono_literals;

inline const sensors::Instant kStart = sensors::parse_instant("2027-04-12T09:00:00Z").value();

inline sensors::Reading reading(std::chrono::milliseconds later, double warm, double moist,
                                const std::string& probe = "left") {
  return {probe, kStart + later, sensors::Celsius::degc(warm),
          sensors::RelativeHumidity::pct(moist), sensors::Quality::good};
}

/// A log in a folder of its own.
struct LogInFolder {
  takehold::testing::ScratchFolder folder;
  std::string file = folder.path("chamber.db");
  std::unique_ptr<ChamberLog> log;

  LogInFolder() { open(); }
  void open() {
    log.reset();
    log = std::make_unique<ChamberLog>(file);
    log->add_probe("left", "chamber");
    log->add_probe("right", "chamber");
  }
  void write(const std::vector<sensors::Reading>& readings) { log->write(readings, {}); }
  std::vector<LoggedReading> all(const std::string& probe) {
    return open_log_reader(file)->readings(probe, kStart - 24h * 365, kStart + 24h * 3650);
  }
};

}  // namespace takehold::daemon
