// Whether a probe has been silent too long. A machine without I/O; times never go back.
#pragma once

#include <algorithm>
#include <chrono>
#include <optional>

#include "sensors/quantity/calendar.hpp"

namespace takehold::daemon {

class Silence {
 public:
  enum class Verdict { nothing, raised, cleared };

  /// How long a probe polled every `every` may say nothing: three polls, a minute at least.
  static std::chrono::milliseconds limit_for(std::chrono::milliseconds every) {
    return std::max<std::chrono::milliseconds>(3 * every, std::chrono::seconds(60));
  }

  /// Counting starts at `start`, for a probe that never speaks must be noticed too.
  Silence(std::chrono::milliseconds limit, sensors::Instant start)
      : limit_(limit), last_good_(start) {}

  /// A good reading came.
  Verdict hear(sensors::Instant at) {
    last_good_ = std::max(last_good_, at);
    const bool was_standing = standing_;
    standing_ = false;
    return was_standing ? Verdict::cleared : Verdict::nothing;
  }
  /// Time passed.
  Verdict wait(sensors::Instant at) {
    if (standing_ || at < last_good_ + limit_) return Verdict::nothing;
    standing_ = true;
    return Verdict::raised;
  }
  /// When to call wait, if nothing comes before.
  std::optional<sensors::Instant> due() const {
    if (standing_) return std::nullopt;
    return last_good_ + limit_;
  }

  bool standing() const { return standing_; }
  void resume_standing() { standing_ = true; }
  std::chrono::milliseconds limit() const { return limit_; }

 private:
  std::chrono::milliseconds limit_;
  sensors::Instant last_good_;
  bool standing_ = false;
};

}  // namespace takehold::daemon
