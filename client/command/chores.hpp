// The tasks of the stages that batches are in: which are due, which were done, and whether a stage
// may end.
#pragma once

#include <vector>

#include "client/command/batch_view.hpp"
#include "client/command/tasks.hpp"
#include "client/season/batch.hpp"
#include "daemon/healing/chore.hpp"

namespace takehold::client {

/// A batch in a stage at a moment; valid as long as what it was made from.
struct Tended {
  const BatchState& state;
  const daemon::Regime& regime;
  daemon::StageNow stage;

  const daemon::Stage& present() const { return regime.stages[stage.index]; }
};

/// Days since the graft, by the grower's calendar.
int day_of_healing(const Book& book, const Batch& batch, sensors::Instant at);

/// What was seen of what a stage waits for, and what is missing.
struct Waits {
  std::string what;  ///< the plan's own sentence; empty: the stage waits for nothing
  bool seen = false;
  std::optional<int> looks;  ///< that many in a row, so far, without a leaf hanging
  bool hangs = false;        ///< at the last look some hung
};
Waits waits_for(const Tended& tended, const std::vector<Tending>& done);

/// Gathers what is due for each batch, the same task at the same hour in one line, and the lines
/// that ask to hold a stage.
class Chores {
 public:
  Chores(const Book& book, sensors::Instant now);
  void add(const Tended& tended);
  /// By the hour; `line` is left alone.
  std::vector<Task> tasks() const;

 private:
  struct Due {
    sensors::Day on;
    std::optional<std::chrono::minutes> time;
    daemon::Chore chore;
    std::vector<std::string> batches;
  };
  void add(const Tended& tended, const daemon::Chore& chore);
  void put(Due due, const std::string& batch);
  void ask_to_hold(const Tended& tended);
  bool was_done(const std::string& batch, const daemon::Chore& chore, sensors::Instant from,
                std::optional<sensors::Instant> due_at) const;

  const Book& book_;
  sensors::Instant now_;
  sensors::Day today_;
  std::vector<Tending> done_;
  std::vector<Due> due_;
  std::vector<Task> holds_;
};

}  // namespace takehold::client
