// When to open a probe's line, when to ask, when to let it rest.
//
// A machine without I/O: the shell says what happened, the machine says what to do at the next
// poll. A line that cannot be opened is tried again after a pause that doubles up to a limit; one
// that stays silent several polls running is closed and opened anew, for a USB adapter can hang and
// a replugged one is another device under the same name. Times are of one monotone clock, passed
// in.
#pragma once

#include <chrono>

namespace takehold::daemon {

using MonotoneTime = std::chrono::steady_clock::time_point;

struct LinkOptions {
  std::chrono::milliseconds first_pause{1000};   ///< after the first failure to open
  std::chrono::milliseconds pause_limit{30000};  ///< the longest pause between two tries
  int silences_before_reopen = 3;                ///< polls without an answer, then close
};

/// One per probe. Not shared between threads.
class LinkMachine {
 public:
  enum class Action {
    open_and_ask,  ///< the line is closed and may be tried
    ask,           ///< the line is open
    rest,          ///< the line is closed and must not be tried yet
  };
  enum class Outcome {
    answered,  ///< something usable came
    garbled,   ///< bytes came, but no reading: the line itself works
    silent,    ///< nothing came in time
    lost,      ///< the line broke, or could not be opened
  };

  explicit LinkMachine(LinkOptions options = {}) : options_(options) {}

  /// What to do with a poll that is due at `now`.
  Action next(MonotoneTime now) const;
  /// What came of it. True: the shell must close the line.
  [[nodiscard]] bool report(Outcome outcome, MonotoneTime now);

  bool is_open() const { return open_; }
  std::chrono::milliseconds pause() const { return pause_; }

 private:
  void back_off(MonotoneTime now);

  LinkOptions options_;
  bool open_ = false;
  int silences_ = 0;
  std::chrono::milliseconds pause_{0};
  MonotoneTime not_before_ = MonotoneTime::min();
};

}  // namespace takehold::daemon
