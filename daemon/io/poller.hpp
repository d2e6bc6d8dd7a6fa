// Asks the probes: performs what daemon/poll decides.
//
// Every serial line is a lane with a queue: its probes are asked one after the other, never into
// each other's words. All other probes are lanes of their own. Lanes know nothing of each other, so
// that a silent bus holds up nobody. A failure is a result like any other; what changes (a line
// lost, a line back) is a line in the journal.
#pragma once

#include <deque>
#include <map>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "daemon/io/asio.hpp"
#include "daemon/io/driver.hpp"
#include "daemon/io/keeper.hpp"
#include "daemon/poll/link_machine.hpp"
#include "daemon/settings/settings.hpp"

namespace takehold::daemon {

class Poller {
 public:
  /// `probes` must outlive it.
  Poller(const std::vector<ProbeSettings>& probes, const asio::any_io_executor& executor);

  /// The probes that are polled, by their index in the settings; those that push are not.
  const std::vector<std::size_t>& polled() const { return polled_; }

  /// Begins to ask `which` (indices of the settings). One that is still being asked, or waits for
  /// its line, is left to that. `timeout` replaces the probes' own if it is longer.
  void start(std::span<const std::size_t> which, std::chrono::milliseconds timeout = {});
  /// Waits until somebody has answered or failed, and a moment for the others, so that one commit
  /// serves them all. The readings are stamped with the time of this return.
  awaitable<std::vector<PollResult>> results();

 private:
  struct Link {
    std::unique_ptr<Driver> driver;
    LinkMachine machine;
    bool told_lost = false;
    bool asking = false;  ///< queued, or being asked
  };
  struct Lane {
    std::deque<std::size_t> queue;
    bool running = false;
  };

  awaitable<void> run(Lane& lane, std::chrono::milliseconds timeout);
  awaitable<PollResult> ask_one(std::size_t index, std::chrono::milliseconds timeout);
  awaitable<sensors::Result<sensors::Decoded>> attempt(std::size_t index,
                                                       std::chrono::milliseconds timeout);
  void note(std::size_t index, const sensors::Result<sensors::Decoded>& answer);

  const std::vector<ProbeSettings>& probes_;
  asio::any_io_executor executor_;
  Wires wires_;
  std::vector<Link> links_;
  std::vector<std::size_t> polled_;
  std::map<std::string, Lane> lanes_;
  std::vector<PollResult> done_;
  int asking_ = 0;
  asio::steady_timer bell_;  ///< cancelled when a result is there
};

/// Asks each probe that is polled once, in the order of the settings, and waits for all.
std::vector<PollResult> poll_once(const Settings& settings);

}  // namespace takehold::daemon
