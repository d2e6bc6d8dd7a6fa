// Work that may hang (a file of a disk or a sensor that does not answer), done aside of the loop.
#pragma once

#include <functional>
#include <memory>

#include "daemon/io/asio.hpp"

namespace takehold::daemon {

class Aside {
 public:
  /// Does `work` in a thread of its own; false: it was not done in time, or what was begun earlier
  /// still hangs and this was not begun. It may end later, or never: `work` must own what it
  /// touches, and must not throw.
  awaitable<bool> run(const std::function<void()>& work, std::chrono::milliseconds timeout);

 private:
  struct Job;
  std::shared_ptr<Job> job_;
};

/// For work that gives something; `late`: what it is when it was not done in time.
template <class Value>
awaitable<Value> run_aside(Aside& aside, const std::function<Value()>& work,
                           std::chrono::milliseconds timeout, const Value& late) {
  auto given = std::make_shared<Value>(late);
  std::function<void()> task = [given, work] { *given = work(); };
  const bool done = co_await aside.run(task, timeout);
  co_return done ? *given : late;
}

}  // namespace takehold::daemon
