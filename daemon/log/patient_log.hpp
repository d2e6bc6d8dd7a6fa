// Writing to the chamber log when the disk may be full, read-only or failing.
//
// What cannot be written waits in memory, bounded, and is written with the next thing that can be.
// Sampling and watching never stop for the disk. One owner, one thread.
#pragma once

#include <cstddef>
#include <deque>
#include <optional>
#include <string>
#include <vector>

#include "daemon/log/chamber_log.hpp"

namespace takehold::daemon {

/// What a time of trouble looks like from outside.
struct LogTrouble {
  sensors::Instant since;
  std::string error;          ///< as the disk told it last
  std::size_t waiting = 0;    ///< readings in memory
  std::int64_t given_up = 0;  ///< readings that there was no more room for
};

struct LogPatience {
  std::size_t readings = 20000;  ///< the oldest are given up beyond
  std::size_t events = 2000;
};

class PatientLog {
 public:
  /// `log` must outlive it.
  explicit PatientLog(ChamberLog& log, LogPatience patience = {})
      : log_(log), patience_(patience) {}

  /// Never throws for the disk's sake. Rows of 0: they wait; with them, `trouble()`.
  LoggedRound write(std::span<const sensors::Reading> readings, std::span<const Event> events,
                    sensors::Instant now);
  /// A warning answered; waits like the rest.
  void save(const Warning& warning, sensors::Instant now);

  /// None: all is written.
  const std::optional<LogTrouble>& trouble() const { return trouble_; }
  /// The readings of this probe that wait, by their times.
  bool is_waiting(const std::string& probe, sensors::Instant at) const;

 private:
  void keep(std::span<const sensors::Reading> readings, std::span<const Event> events);
  void give_up_surplus();
  void write_waiting();
  void failed(const std::exception& error, sensors::Instant now);

  ChamberLog& log_;
  LogPatience patience_;
  std::deque<sensors::Reading> readings_;
  std::deque<Event> events_;
  std::vector<Warning> answered_;
  std::optional<LogTrouble> trouble_;
  std::optional<Gap> given_up_;
};

}  // namespace takehold::daemon
