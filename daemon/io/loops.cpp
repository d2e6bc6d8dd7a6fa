#include "daemon/io/loops.hpp"

#include <fmt/chrono.h>
#include <spdlog/spdlog.h>

#include <algorithm>

#include "daemon/io/service.hpp"
#include "daemon/poll/round_clock.hpp"

namespace takehold::daemon {

using namespace std::chrono_literals;

namespace {

/// How long sampling may take to come round before it counts as stuck.
std::chrono::milliseconds patience_with(const Settings& settings, const Poller& poller) {
  if (poller.polled().empty()) return 150s;  // then the timers are what must come round
  std::chrono::milliseconds shortest = 24h;
  std::chrono::milliseconds longest_answer = 0ms;
  for (const auto index : poller.polled()) {
    shortest = std::min(shortest, settings.probes[index].every);
    longest_answer = std::max(longest_answer, settings.probes[index].timeout);
  }
  return shortest + longest_answer + 60s;
}

}  // namespace

Loops::Loops(asio::io_context& context, const Settings& settings, Keeper& keeper)
    : context_(context),
      settings_(settings),
      keeper_(keeper),
      poller_(settings.probes, context.get_executor()),
      wait_timer_(context),
      guard_(wall_clock(), Clock::now()),
      most_between_rounds_(patience_with(settings, poller_)) {}

void Loops::start() {
  keeper_.on_round([this](const LoggedRound&) { wait_timer_.cancel(); });
  if (!poller_.polled().empty()) {
    asio::co_spawn(context_, rounds(), asio::detached);
    asio::co_spawn(context_, results(), asio::detached);
  }
  asio::co_spawn(context_, timers(), asio::detached);
  asio::co_spawn(context_, upkeep(), asio::detached);
  asio::co_spawn(context_, calibrations(), asio::detached);
  if (const auto period = watchdog_period()) {
    asio::co_spawn(context_, watchdog(*period), asio::detached);
  }
}

awaitable<void> Loops::rounds() {
  std::vector<std::chrono::milliseconds> periods;
  for (const auto index : poller_.polled()) periods.push_back(settings_.probes[index].every);
  RoundClock clock(periods, Clock::now());
  asio::steady_timer timer(context_);
  while (true) {
    timer.expires_at(clock.next_at());
    co_await timer.async_wait(kNoThrow);
    std::vector<std::size_t> due;
    for (const auto i : clock.take_due(Clock::now())) due.push_back(poller_.polled()[i]);
    poller_.start(due);
  }
}

awaitable<void> Loops::results() {
  while (true) {
    const auto results = co_await poller_.results();
    look_at_clock();
    keep([&] { keeper_.round(results.front().reading.at, results); });
    progress_ = Clock::now();
  }
}

awaitable<void> Loops::timers() {
  while (true) {
    const auto due = keeper_.due();
    const auto pause = due ? std::clamp<std::chrono::milliseconds>(*due - wall_clock(), 0ms, 60s)
                           : std::chrono::milliseconds(60s);
    wait_timer_.expires_after(pause);
    const auto [cut_short] = co_await wait_timer_.async_wait(kNoThrow);
    look_at_clock();
    if (!cut_short) keep([&] { keeper_.wait(wall_clock()); });
    if (poller_.polled().empty()) progress_ = Clock::now();
  }
}

/// A little at a time, so that sampling never waits for it.
awaitable<void> Loops::upkeep() {
  asio::steady_timer timer(context_);
  while (true) {
    bool more = false;
    keep([&] { more = prune(); });
    timer.expires_after(more ? 1s : 60s);
    co_await timer.async_wait(kNoThrow);
  }
}

/// A calibration that is due is said at the start and once a day.
awaitable<void> Loops::calibrations() {
  asio::steady_timer timer(context_);
  while (true) {
    const auto today = std::chrono::floor<std::chrono::days>(wall_clock()).time_since_epoch();
    for (const auto& probe : settings_.probes) {
      const auto& due = probe.calibration.due_on;
      if (!due || *due > sensors::Day(today)) continue;
      spdlog::warn("probe: {}: its calibration is due since {}: chamberd calibrate --probe {}",
                   probe.name, sensors::to_string(*due), probe.name);
    }
    timer.expires_after(24h);
    co_await timer.async_wait(kNoThrow);
  }
}

bool Loops::prune() {
  if (keeper_.trouble() || Clock::now() < no_pruning_before_) return false;
  return keeper_.log().prune(wall_clock() - 24h * settings_.keep_days);
}

awaitable<void> Loops::watchdog(std::chrono::milliseconds period) {
  asio::steady_timer timer(context_);
  while (true) {
    if (Clock::now() - progress_ < most_between_rounds_) tell_alive();
    timer.expires_after(period / 2);
    co_await timer.async_wait(kNoThrow);
  }
}

void Loops::look_at_clock() {
  const auto now = wall_clock();
  const auto step = guard_.look(now, Clock::now());
  if (!step) return;
  spdlog::warn("clock: was set by {:.1f} s, it is now {}", double(step->count()) / 1000,
               sensors::to_string(now));
  // A clock that is wrong by years must not cost the history.
  if (*step > 24h) no_pruning_before_ = Clock::now() + 24h;
  keep([&] { keeper_.clock_stepped(now, *step); });
}

template <class Work>
void Loops::keep(Work work) {
  try {
    work();
  } catch (const std::exception& error) {
    spdlog::error("log: {}", error.what());
  }
  const auto& trouble = keeper_.trouble();
  if (trouble && !told_trouble_) {
    spdlog::error("log: {}: {}: readings wait in memory", keeper_.log().file().string(),
                  trouble->error);
  }
  if (!trouble && told_trouble_) {
    spdlog::info("log: {}: written again", keeper_.log().file().string());
  }
  told_trouble_ = trouble.has_value();
}

}  // namespace takehold::daemon
