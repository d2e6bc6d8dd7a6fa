// The daemon's life: everything is made in the order it depends on, runs on one thread, and is let
// go in the mirrored order. A reload (SIGHUP) ends one life and begins the next in the same
// process, with the log left open.

#include <malloc.h>
#include <spdlog/spdlog.h>

#include <boost/asio/signal_set.hpp>
#include <csignal>

#include "daemon/io/interface.hpp"
#include "daemon/io/keeper.hpp"
#include "daemon/io/listener.hpp"
#include "daemon/io/live_stream.hpp"
#include "daemon/io/loops.hpp"
#include "daemon/io/notifier.hpp"
#include "daemon/io/run.hpp"
#include "daemon/io/service.hpp"

namespace takehold::daemon {

using namespace std::chrono_literals;

namespace {

/// What is kept from one life to the next.
struct OpenLog {
  explicit OpenLog(const std::filesystem::path& file) : log(file), reader(open_log_reader(file)) {}
  ChamberLog log;
  std::unique_ptr<LogReader> reader;
};

class Life {
 public:
  /// Throws Refused for what stands in the way: a port, a socket, a file of tokens.
  Life(const Settings& settings, OpenLog& open)
      : settings_(settings),
        keeper_(settings_, open.log, wall_clock()),
        live_(keeper_, *open.reader),
        notifiers_(context_, settings_, keeper_),
        interface_(keeper_, *open.reader),
        listener_(context_.get_executor(), settings_, interface_, live_),
        loops_(context_, settings_, keeper_),
        end_(context_, SIGTERM, SIGINT),
        reload_(context_, SIGHUP) {}

  /// Until it is told to stop (none), or to go on with other settings.
  std::optional<Settings> run() {
    end_.async_wait([this](const boost::system::error_code& error, int) {
      if (!error) context_.stop();
    });
    await_reload();
    listener_.start();
    loops_.start();
    spdlog::info("chamberd: {}: watching {} probes, listening on {}", settings_.chamber_name,
                 settings_.probes.size(), settings_.socket.string());
    tell_ready();
    context_.run();
    listener_.stop();
    live_.close_all();
    return std::move(next_);
  }

  const Settings& settings() const { return settings_; }

 private:
  void await_reload() {
    reload_.async_wait([this](const boost::system::error_code& error, int) {
      if (error) return;
      take_up(settings_.file);
      if (next_) return context_.stop();
      await_reload();
    });
  }

  /// All or nothing: settings with a mistake in them change nothing.
  void take_up(const std::filesystem::path& file) {
    try {
      if (keeper_.trouble()) {
        spdlog::error("settings: not read again while readings wait for the log's disk");
        return;
      }
      next_ = load_settings(file, Places::of_environment());
    } catch (const std::exception& error) {
      spdlog::error("settings: not taken, the old ones stay: {}", error.what());
    }
  }

  asio::io_context context_{1};
  Settings settings_;
  Keeper keeper_;
  LiveStream live_;
  Notifiers notifiers_;
  Interface interface_;
  Listener listener_;
  Loops loops_;
  asio::signal_set end_;
  asio::signal_set reload_;
  std::optional<Settings> next_;
};

void note_pause(ChamberLog& log, sensors::Instant now) {
  const auto newest = log.newest_at();
  if (!newest) return;
  if (*newest > now) {
    spdlog::warn("clock: it is {}, but the log already knows {}: is the clock set?",
                 sensors::to_string(now), sensors::to_string(*newest));
  } else if (now - *newest > 5min) {
    log.note_gap(*newest, now, Gap::Why::not_running);
  }
}

std::unique_ptr<OpenLog> open_log(const Settings& settings) {
  auto open = std::make_unique<OpenLog>(settings.log_file);
  note_pause(open->log, wall_clock());
  return open;
}

/// What an answer of some MiB took goes back to the system when it is sent. Left alone, malloc
/// would keep as much for the next, and an arena for each thread.
void keep_memory_small() {
  ::mallopt(M_ARENA_MAX, 1);
  ::mallopt(M_MMAP_THRESHOLD, 128 * 1024);
  ::mallopt(M_TRIM_THRESHOLD, 128 * 1024);
}

}  // namespace

int run_daemon(const Settings& settings) {
  keep_memory_small();
  std::signal(SIGXFSZ, SIG_IGN);  // a limit on the size of files is a full disk, and no end
  auto open = open_log(settings);
  auto life = std::make_unique<Life>(settings, *open);
  while (auto next = life->run()) {
    const Settings before = life->settings();
    tell_reloading();
    life.reset();
    try {
      if (next->log_file != before.log_file) open = open_log(*next);
      life = std::make_unique<Life>(*next, *open);
      spdlog::info("settings: read again");
    } catch (const std::exception& error) {
      spdlog::error("settings: cannot be carried out, the old ones stay: {}", error.what());
      if (open->log.file() != before.log_file) open = open_log(before);
      life = std::make_unique<Life>(before, *open);
    }
  }
  spdlog::info("chamberd: stopping");
  tell_stopping();
  return 0;
}

}  // namespace takehold::daemon
