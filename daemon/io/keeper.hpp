// The one place where the watch and the log meet: whatever happens is judged, written in one
// commit, and only then told to those who listen.
//
// No coroutine and no clock: times are passed in. While the disk fails, readings and events wait in
// memory and are told all the same; only a batch that cannot be written is thrown. One thread.
#pragma once

#include <functional>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "daemon/log/chamber_log.hpp"
#include "daemon/log/patient_log.hpp"
#include "daemon/settings/settings.hpp"
#include "daemon/watch/chamber.hpp"
#include "sensors/quantity/reading.hpp"

namespace takehold::daemon {

/// The newest that a probe said, and the newest good reading.
struct ProbeNow {
  std::optional<sensors::Reading> last;
  std::optional<sensors::Instant> last_good_at;
  std::string error;  ///< of the last poll, or empty
};

/// What a poll came to: a reading (quality none: nothing) and, if it failed, why.
struct PollResult {
  sensors::Reading reading;
  std::string error;
};

class Keeper {
 public:
  using Listener = std::function<void(const LoggedRound&)>;

  /// `log` must outlive it. Batches and open warnings of the log are taken up again; those of the
  /// settings are added.
  Keeper(const Settings& settings, ChamberLog& log, sensors::Instant start);

  /// Called after each commit; with an empty round when a batch changed or a warning was answered.
  void on_round(Listener listener) { listeners_.push_back(std::move(listener)); }

  /// One poll round of `at`.
  LoggedRound round(sensors::Instant at, std::span<const PollResult> results);
  /// Readings that were sent to us, each of its own time and none known already; written together.
  /// Those older than the newest of the watch go to the log only.
  LoggedRound push(std::span<const sensors::Reading> readings, sensors::Instant now);
  /// Those of `readings` that are neither in the log nor waiting for it, each once.
  std::vector<sensors::Reading> unknown_of(std::vector<sensors::Reading> readings) const;
  /// Time passed.
  LoggedRound wait(sensors::Instant now);
  /// When to call wait, if nothing comes before.
  std::optional<sensors::Instant> due() const { return chamber_.due(); }

  /// Writes and takes up a batch described by its book.
  void put(const OccupantRecord& record, Batch batch, sensors::Instant now);
  /// The warning after it; none: there is no such warning open.
  std::optional<Warning> acknowledge(std::int64_t number, sensors::Instant at);
  std::optional<Warning> shelve(std::int64_t number, sensors::Instant until, sensors::Instant now);

  /// The clock was set by `by` and shows `now`. What the watch has seen by the old time is let go:
  /// it begins anew, as after a start; batches and open warnings stay.
  void clock_stepped(sensors::Instant now, std::chrono::milliseconds by);

  const Chamber& chamber() const { return chamber_; }
  ChamberLog& log() const { return log_; }
  const Settings& settings() const { return settings_; }
  const std::map<std::string, ProbeNow>& probes() const { return probes_; }
  sensors::Instant started_at() const { return started_at_; }
  /// The log cannot be written just now.
  const std::optional<LogTrouble>& trouble() const { return patient_.trouble(); }

 private:
  LoggedRound write(std::span<const sensors::Reading> readings, std::span<const Event> events,
                    sensors::Instant now);
  /// Keeps a warning that was answered.
  std::optional<Warning> answered(std::optional<Warning> warning, sensors::Instant now);
  Chamber new_chamber(sensors::Instant now, std::int64_t last_warning) const;
  /// The disk failed, or is back: that is a warning too.
  std::vector<Event> news_of_log(sensors::Instant now);
  void remember(const sensors::Reading& reading, const std::string& error);

  const Settings& settings_;
  ChamberLog& log_;
  PatientLog patient_;
  Chamber chamber_;
  sensors::Instant started_at_;
  std::map<std::string, ProbeNow> probes_;
  std::vector<Listener> listeners_;
  bool told_trouble_ = false;
};

}  // namespace takehold::daemon
