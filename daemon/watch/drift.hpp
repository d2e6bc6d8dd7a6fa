// Whether air that is still inside its band is on its way out: one limit of one quantity.
//
// A machine without I/O. It is told each round whether the air has left its usual cycle towards the
// limit and what the outlook is, and answers when to say so and when to take it back. A change
// faster than the chamber's own devices can make looks like an opening or a spray; most of those
// are over within minutes, so they are given time to pass.
#pragma once

#include <chrono>
#include <optional>

#include "daemon/watch/outlook.hpp"

namespace takehold::daemon {

/// One round's view of one limit.
struct Prospect {
  bool unusual = false;            ///< beyond the usual cycle, on this limit's side
  std::optional<Outlook> outlook;  ///< none: not moving that way
  /// Lately the air moved faster than the chamber's own devices move it: since when.
  std::optional<sensors::Instant> hasty_since;
  bool recovering = false;  ///< from that; what it does is passed over
};

class Drift {
 public:
  enum class Verdict { nothing, raised, cleared };

  /// `patience`: how long rounds must agree; `hasty_patience`: how long a hasty change may take to
  /// pass; `evidence_share`: nothing is foretold further ahead than so many times as long as it has
  /// been seen coming, for what begins fast often slows down.
  Drift(std::chrono::milliseconds patience, std::chrono::milliseconds hasty_patience,
        int evidence_share)
      : patience_(patience), hasty_patience_(hasty_patience), evidence_share_(evidence_share) {}

  Verdict see(sensors::Instant at, const Prospect& prospect);

  bool standing() const { return standing_; }
  /// Since when the air has been on its way.
  std::optional<sensors::Instant> since() const { return since_; }
  /// It came true, or nothing is asked for any more.
  void end(sensors::Instant at);
  /// Goes on with a drift raised before a restart.
  void resume(sensors::Instant since);

 private:
  void note_coming(sensors::Instant at, const Prospect& prospect);
  Verdict watch_standing(sensors::Instant at, const Prospect& prospect);

  bool may_pass(sensors::Instant at, const Prospect& prospect) const;

  std::chrono::milliseconds patience_, hasty_patience_;
  int evidence_share_;
  bool standing_ = false;
  std::optional<sensors::Instant> since_;     ///< suspected from
  std::optional<sensors::Instant> last_bad_;  ///< last round that spoke for it
  /// Unusual and on its way there, however far off.
  std::optional<sensors::Instant> coming_since_, last_coming_;
  std::optional<sensors::Instant> ended_at_;
};

}  // namespace takehold::daemon
