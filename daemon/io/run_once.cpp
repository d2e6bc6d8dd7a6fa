#include <iostream>
#include <nlohmann/json.hpp>

#include "daemon/io/messages.hpp"
#include "daemon/io/poller.hpp"
#include "daemon/io/run.hpp"

namespace takehold::daemon {

using namespace std::chrono_literals;

namespace {

/// A probe that tells by itself may have just told: wait for the next time.
std::chrono::milliseconds patience(const Settings& settings) {
  std::chrono::milliseconds longest = 0ms;
  for (const auto& probe : settings.probes) {
    longest = std::max(longest, probe.every + probe.timeout);
  }
  return std::min<std::chrono::milliseconds>(longest, 60s);
}

}  // namespace

int run_once(const Settings& settings, std::ostream& out) {
  asio::io_context context(1);
  Poller poller(settings.probes);
  std::vector<PollResult> results;
  asio::co_spawn(
      context,
      [&]() -> awaitable<void> {
        results = co_await poller.ask(poller.polled(), wall_clock(), patience(settings));
      },
      [](std::exception_ptr error) {
        if (error) std::rethrow_exception(error);
      });
  context.run();
  int status = 0;
  for (const auto& result : results) {
    out << nlohmann::json(reading_message(result)).dump() << "\n";
    if (result.reading.quality == sensors::Quality::none) status = 1;
  }
  for (const auto& probe : settings.probes) {  // told of, but no fault of theirs
    if (!std::holds_alternative<PushSource>(probe.source)) continue;
    PollResult nothing{{probe.name, wall_clock(), {}, {}, sensors::Quality::none},
                       "this probe sends its readings; it cannot be asked"};
    out << nlohmann::json(reading_message(nothing)).dump() << "\n";
  }
  return status;
}

}  // namespace takehold::daemon
