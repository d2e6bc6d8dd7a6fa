// Asks the probes: performs what daemon/poll decides.
//
// Probes are asked side by side, those that share a serial line one after the other. A failure is a
// result like any other; what changes (a line lost, a line back) is a line in the journal.
#pragma once

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
  explicit Poller(const std::vector<ProbeSettings>& probes);

  /// The probes that are polled, by their index in the settings; those that push are not.
  const std::vector<std::size_t>& polled() const { return polled_; }

  /// Asks `which` (indices of the settings) and returns their results, all stamped `at`. `timeout`
  /// replaces the probes' own if it is longer.
  awaitable<std::vector<PollResult>> ask(std::span<const std::size_t> which, sensors::Instant at,
                                         std::chrono::milliseconds timeout = {});

 private:
  struct Link {
    std::unique_ptr<Driver> driver;
    LinkMachine machine;
    bool told_lost = false;
  };
  struct Round;

  awaitable<void> ask_group(std::vector<std::size_t> group, std::shared_ptr<Round> round);
  awaitable<PollResult> ask_one(std::size_t index, const Round& round);
  awaitable<sensors::Result<sensors::Decoded>> attempt(std::size_t index,
                                                       std::chrono::milliseconds timeout);
  void note(std::size_t index, const sensors::Result<sensors::Decoded>& answer);

  const std::vector<ProbeSettings>& probes_;
  SerialLines lines_;
  std::vector<Link> links_;
  std::vector<std::size_t> polled_;
};

}  // namespace takehold::daemon
