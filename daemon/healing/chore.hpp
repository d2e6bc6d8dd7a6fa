// When a stage's task is to be done, told from its own sentence.
//
// "mist at 8:00 and 18:00", "refill the water each morning", "open for an hour at 9:00 on day 4",
// "sever the scion below the union on day 7", "remove the clips from day 12 on": the words about
// time are taken out and understood, the rest is what to do. A sentence without any is advice for
// the whole stage. Days count from the graft, by the grower's calendar; hours are of her clock.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <vector>

namespace takehold::daemon {

struct Chore {
  std::string what;                         ///< "mist"
  std::vector<std::chrono::minutes> times;  ///< since midnight, rising; empty: at no certain time
  bool daily = false;                       ///< again each day of the stage, or of `days`
  std::optional<int> from_day, to_day;      ///< both inclusive; none: from, to the stage's ends

  /// It is done once, or again and again: what can be ticked off. Else it is advice.
  bool is_timed() const { return daily || from_day; }
  bool falls_on(int day) const {
    return (!from_day || day >= *from_day) && (!to_day || day <= *to_day);
  }
  /// A look at the leaves, which counts towards what a stage waits for.
  bool is_look() const;
  friend bool operator==(const Chore&, const Chore&) = default;
};

Chore chore_of(const std::string& task);

/// "8:00" or "08:00", up to 23:59; none: it is not a time of the day.
std::optional<std::chrono::minutes> clock_time(const std::string& text);
/// "8:00"
std::string clock_text(std::chrono::minutes time);

/// Of "no wilting at two looks in a row": 2. None: how many is not said, so that only the grower
/// can tell whether it was seen.
std::optional<int> looks_in_a_row(const std::string& advance_when);

}  // namespace takehold::daemon
