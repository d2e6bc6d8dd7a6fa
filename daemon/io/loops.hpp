// Rounds, timers, upkeep and the watchdog: the loops that keep a chamber watched.
#pragma once

#include <chrono>

#include "daemon/io/asio.hpp"
#include "daemon/io/keeper.hpp"
#include "daemon/io/poller.hpp"
#include "daemon/poll/clock_guard.hpp"
#include "daemon/settings/settings.hpp"

namespace takehold::daemon {

class Loops {
 public:
  /// All three must outlive it. Nothing happens before start().
  Loops(asio::io_context& context, const Settings& settings, Keeper& keeper);

  void start();

 private:
  using Clock = std::chrono::steady_clock;

  awaitable<void> rounds();
  awaitable<void> results();
  awaitable<void> timers();
  awaitable<void> upkeep();
  awaitable<void> calibrations();
  awaitable<void> watchdog(std::chrono::milliseconds period);
  void look_at_clock();
  bool prune();
  /// An error ends nothing: it is said once, and the next round comes.
  template <class Work>
  void keep(Work work);

  asio::io_context& context_;
  const Settings& settings_;
  Keeper& keeper_;
  Poller poller_;
  asio::steady_timer wait_timer_;
  ClockGuard guard_;
  Clock::time_point progress_ = Clock::now();
  std::chrono::milliseconds most_between_rounds_;
  Clock::time_point no_pruning_before_ = Clock::now();
  bool told_trouble_ = false;
};

}  // namespace takehold::daemon
