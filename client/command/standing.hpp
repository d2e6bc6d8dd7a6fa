// What stands where now: sowings and batches as their records leave them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "client/book/book.hpp"
#include "client/season/batch.hpp"
#include "client/season/sowing.hpp"

namespace takehold::client {

/// A sowing after everything told of it.
struct SowingState {
  Sowing sowing;
  std::string variety;
  std::optional<int> standing;  ///< the last count less what left since; none: never counted
  int lost = 0;
  int culled = 0;
  int grafted = 0;  ///< seedlings that went into batches
  int set_out = 0;  ///< planted into beds, on their own roots
  int lost_in_bed = 0;
  std::string place;  ///< a bench's name, or "chamber"; empty: the season's first bench, unnamed
  std::optional<Measurement> measured;  ///< the last full one

  int in_bed() const { return set_out - lost_in_bed; }
};

SowingState state_of(const Book& book, const Sowing& sowing);

/// Plants that had come up by a moment, in all: those that died or were taken out since count too.
struct CountedUp {
  Instant at{};
  int up = 0;
};
/// By rising instant, one a count told.
std::vector<CountedUp> counts_of(const Book& book, const Sowing& sowing);

/// A batch after everything told of it. count() == taken() + lost + pending() always.
struct BatchState {
  Batch batch;
  int lost = 0;
  int culled = 0;        ///< thrown out or given away before their fate was known
  int culled_since = 0;  ///< of the taken, after the batch was finished
  int lost_hardening = 0, lost_in_bed = 0;  ///< of the taken; they were takes all the same
  int set_out = 0;
  std::optional<Finish> finish;
  std::vector<BatchEvent> events;  ///< in the order of their instants
  std::string place;               ///< "chamber", or the bench it was moved to

  int taken() const { return finish ? finish->taken : 0; }
  int pending() const { return batch.count() - lost - taken(); }
  /// Still under the grower's eye: neither lost, nor thrown out, nor given away.
  int living() const {
    if (!finish) return batch.count() - lost - culled;
    return finish->taken - finish->given - culled_since - lost_hardening - lost_in_bed;
  }
  int in_bed() const { return set_out - lost_in_bed; }
};

BatchState state_of(const Book& book, const Batch& batch);

/// "S12" of "S12-5"; the text itself when it names no seedling.
std::string sowing_of_seedling(const std::string& seedling);

}  // namespace takehold::client
