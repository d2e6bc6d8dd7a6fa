#include <algorithm>
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

void sort_as_in(const Settings& settings, std::vector<PollResult>& results) {
  const auto place = [&](const PollResult& result) {
    return std::find_if(settings.probes.begin(), settings.probes.end(),
                        [&](const auto& probe) { return probe.name == result.reading.probe; });
  };
  std::sort(results.begin(), results.end(),
            [&](const auto& a, const auto& b) { return place(a) < place(b); });
}

}  // namespace

std::vector<PollResult> poll_once(const Settings& settings) {
  asio::io_context context(1);
  Poller poller(settings.probes, context.get_executor());
  std::vector<PollResult> results;
  asio::co_spawn(
      context,
      [&]() -> awaitable<void> {
        poller.start(poller.polled(), patience(settings));
        while (results.size() < poller.polled().size()) {
          for (auto& result : co_await poller.results()) results.push_back(std::move(result));
        }
      },
      [](std::exception_ptr error) {
        if (error) std::rethrow_exception(error);
      });
  context.run();
  sort_as_in(settings, results);
  return results;
}

int run_once(const Settings& settings, std::ostream& out) {
  int status = 0;
  for (const auto& result : poll_once(settings)) {
    out << json_text(reading_message(result)) << "\n";
    if (result.reading.quality == sensors::Quality::none) status = 1;
  }
  for (const auto& probe : settings.probes) {  // told of, but no fault of theirs
    if (!std::holds_alternative<PushSource>(probe.source)) continue;
    PollResult nothing{{probe.name, wall_clock(), {}, {}, sensors::Quality::none},
                       "this probe sends its readings; it cannot be asked"};
    out << json_text(reading_message(nothing)) << "\n";
  }
  return status;
}

}  // namespace takehold::daemon
