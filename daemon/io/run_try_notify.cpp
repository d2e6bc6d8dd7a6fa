#include <iostream>
#include <nlohmann/json.hpp>

#include "daemon/io/messages.hpp"
#include "daemon/io/notifier.hpp"
#include "daemon/io/run.hpp"

namespace takehold::daemon {

using namespace std::chrono_literals;

int run_try_notify(const Settings& settings, std::ostream& out) {
  Warning warning;
  warning.about = "humidity";
  warning.raised_at = wall_clock();
  warning.text = "a trial: nothing is wrong";
  const Event event{warning.raised_at, EventType::warning, warning, "", warning.text};
  const auto text = json_text(event_message(event)) + "\n";

  asio::io_context context(1);
  bool failed = false;
  asio::co_spawn(
      context,
      [&]() -> awaitable<void> {
        for (const auto& notify : settings.notify) {
          const Delivery trouble = co_await deliver(notify, text);
          out << nlohmann::json{{"notify", notify.where},
                                {"arrived", trouble.empty()},
                                {"trouble",
                                 trouble.empty() ? nlohmann::json() : nlohmann::json(trouble)}}
                     .dump()
              << "\n";
          failed = failed || !trouble.empty();
        }
      },
      asio::detached);
  context.run();
  return failed ? 1 : 0;
}

}  // namespace takehold::daemon
