// The warnings of a chamber from their raising to their end.
//
// Life cycle as in alarm practice (ISA-18.2): a warning stands or is over, is acknowledged or not,
// may be put off until a time; one that is over stays until it is acknowledged. No I/O; times are
// passed in. One owner.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "daemon/watch/event.hpp"

namespace takehold::daemon {

class WarningList {
 public:
  /// `last_number`: of the newest warning of the log.
  explicit WarningList(std::int64_t last_number) : last_number_(last_number) {}

  /// Goes on with a warning of the log.
  void resume(const Warning& warning) { warnings_.push_back(warning); }

  /// Gives it its number, and tells of it.
  std::int64_t raise(Warning warning, sensors::Instant at, std::vector<Event>& events);
  /// Ends it and empties `number`; nothing happens if there is none.
  void clear(std::optional<std::int64_t>& number, sensors::Instant at, std::string text,
             std::vector<Event>& events);

  /// A standing warning may become graver, never milder.
  void regrade(std::int64_t number, Grade grade);

  /// Standing ones and those cleared but not acknowledged, oldest first; of the latter a bounded
  /// number.
  const std::vector<Warning>& all() const { return warnings_; }
  const Warning* find(std::int64_t number) const;
  /// A standing one of the air with this cause; null: there is none.
  const Warning* standing(Cause cause) const;

  /// The warning after the change; none: no such warning is kept.
  std::optional<Warning> acknowledge(std::int64_t number, sensors::Instant at);
  std::optional<Warning> shelve(std::int64_t number, sensors::Instant until);

 private:
  Warning* find_own(std::int64_t number);
  void forget(std::int64_t number);
  void forget_surplus();

  std::int64_t last_number_;
  std::vector<Warning> warnings_;
};

}  // namespace takehold::daemon
