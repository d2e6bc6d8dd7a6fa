// The chamber: which batches stand in it, what they ask for now, and the watch over it.
//
// No I/O and no clock. Everything that happens is told to it in the order of time: rounds of
// readings, batches that come and go, and the passing of time (when due() says so). One owner.
#pragma once

#include <map>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "daemon/watch/batch.hpp"
#include "daemon/watch/watch.hpp"

namespace takehold::daemon {

struct BatchNow {
  const Batch* batch;  ///< valid until the batches change
  StageNow stage;
};

class Chamber {
 public:
  Chamber(WatchOptions options, const std::vector<WatchedProbe>& probes, sensors::Instant start,
          std::int64_t last_warning);

  /// Goes on with a warning that stood when the log was last closed.
  void resume(const Warning& warning) { watch_.resume(warning); }

  /// A batch new or changed. Its present stage is no event; later changes of stage are.
  void put(Batch batch, sensors::Instant now);
  const std::map<std::string, Batch>& batches() const { return batches_; }

  /// Fires all timers that are due before `at`, each at its own time.
  std::vector<Event> advance_before(sensors::Instant at);
  /// Fires what is due up to and including `at`.
  std::vector<Event> wait(sensors::Instant at);
  /// One round of readings at `at`; timers due before it fire first.
  std::vector<Event> see(sensors::Instant at, std::span<const sensors::Reading> readings);
  /// When to call wait, if nothing comes before; after the last time told.
  std::optional<sensors::Instant> due() const;

  /// The batches that stand in the chamber at `at`, by entering, each with its stage.
  std::vector<BatchNow> inside(sensors::Instant at) const;
  /// What they share; the younger rules where they collide.
  Bands bands(sensors::Instant at) const;

  const Watch& watch() const { return watch_; }
  Watch& watch() { return watch_; }
  /// The last time told to it.
  sensors::Instant now() const { return now_; }

 private:
  void note_stages(sensors::Instant at, std::vector<Event>& events);
  std::optional<sensors::Instant> next_change() const;

  Watch watch_;
  std::map<std::string, Batch> batches_;
  std::map<std::string, std::string> stages_;  ///< last known, by label
  sensors::Instant now_;
};

}  // namespace takehold::daemon
