// The daemon's life: everything is made in the order it depends on, runs on one thread, and is let
// go in the mirrored order.

#include <spdlog/spdlog.h>

#include <boost/asio/signal_set.hpp>

#include "daemon/io/interface.hpp"
#include "daemon/io/keeper.hpp"
#include "daemon/io/listener.hpp"
#include "daemon/io/live_stream.hpp"
#include "daemon/io/notifier.hpp"
#include "daemon/io/poller.hpp"
#include "daemon/io/run.hpp"
#include "daemon/io/service.hpp"
#include "daemon/poll/round_clock.hpp"

namespace takehold::daemon {

using namespace std::chrono_literals;

namespace {

/// Rounds, timers and the watchdog: the loops that keep a chamber watched.
class Loops {
 public:
  Loops(asio::io_context& context, const Settings& settings, Keeper& keeper)
      : context_(context),
        settings_(settings),
        keeper_(keeper),
        poller_(settings.probes, context.get_executor()),
        wait_timer_(context) {}

  void start() {
    keeper_.on_round([this](const LoggedRound&) { wait_timer_.cancel(); });
    if (!poller_.polled().empty()) {
      asio::co_spawn(context_, rounds(), asio::detached);
      asio::co_spawn(context_, results(), asio::detached);
    }
    asio::co_spawn(context_, timers(), asio::detached);
    asio::co_spawn(context_, calibrations(), asio::detached);
    if (const auto period = watchdog_period()) {
      asio::co_spawn(context_, watchdog(*period), asio::detached);
    }
  }

 private:
  awaitable<void> rounds() {
    std::vector<std::chrono::milliseconds> periods;
    for (const auto index : poller_.polled()) periods.push_back(settings_.probes[index].every);
    RoundClock clock(periods, std::chrono::steady_clock::now());
    asio::steady_timer timer(context_);
    while (true) {
      timer.expires_at(clock.next_at());
      co_await timer.async_wait(kNoThrow);
      std::vector<std::size_t> due;
      for (const auto i : clock.take_due(std::chrono::steady_clock::now())) {
        due.push_back(poller_.polled()[i]);
      }
      poller_.start(due);
    }
  }

  awaitable<void> results() {
    while (true) {
      const auto results = co_await poller_.results();
      keep([&] { keeper_.round(results.front().reading.at, results); });
    }
  }

  awaitable<void> timers() {
    while (true) {
      const auto due = keeper_.due();
      const auto pause = due ? std::clamp<std::chrono::milliseconds>(*due - wall_clock(), 0ms, 60s)
                             : std::chrono::milliseconds(60s);
      wait_timer_.expires_after(pause);
      const auto [cut_short] = co_await wait_timer_.async_wait(kNoThrow);
      if (!cut_short) keep([&] { keeper_.wait(wall_clock()); });
      progress_ = std::chrono::steady_clock::now();
    }
  }

  /// Pinged while the loop of timers goes round, which it does at least once a minute.
  awaitable<void> watchdog(std::chrono::milliseconds period) {
    asio::steady_timer timer(context_);
    while (true) {
      if (std::chrono::steady_clock::now() - progress_ < 90s) tell_alive();
      timer.expires_after(period / 2);
      co_await timer.async_wait(kNoThrow);
    }
  }

  /// A calibration that is due is said at the start and once a day.
  awaitable<void> calibrations() {
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

  /// The disk may be full or gone for a while: say so, and go on with the next round.
  template <class Work>
  void keep(Work work) {
    try {
      work();
      if (disk_trouble_) spdlog::info("log: {}: written again", keeper_.log().file().string());
      disk_trouble_ = false;
    } catch (const std::exception& error) {
      if (!disk_trouble_) spdlog::error("log: {}", error.what());
      disk_trouble_ = true;
    }
  }

  asio::io_context& context_;
  const Settings& settings_;
  Keeper& keeper_;
  Poller poller_;
  asio::steady_timer wait_timer_;
  std::chrono::steady_clock::time_point progress_ = std::chrono::steady_clock::now();
  bool disk_trouble_ = false;
};

}  // namespace

int run_daemon(const Settings& settings) {
  asio::io_context context(1);
  ChamberLog log(settings.log_file);
  const auto reader = open_log_reader(settings.log_file);
  Keeper keeper(settings, log, wall_clock());
  LiveStream live(keeper, *reader);
  Notifiers notifiers(context, settings, keeper);
  Interface interface(keeper, *reader);
  Listener listener(context.get_executor(), settings, interface, live);
  Loops loops(context, settings, keeper);

  asio::signal_set signals(context, SIGTERM, SIGINT);
  signals.async_wait([&](const boost::system::error_code& error, int) {
    if (error) return;
    spdlog::info("chamberd: stopping");
    tell_stopping();
    listener.stop();
    live.close_all();
    context.stop();
  });

  listener.start();
  loops.start();
  spdlog::info("chamberd: {}: watching {} probes, listening on {}", settings.chamber_name,
               settings.probes.size(), settings.socket.string());
  tell_ready();
  context.run();
  return 0;
}

}  // namespace takehold::daemon
