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
          const auto& command = std::get<CommandNotify>(notify.how).command;
          const int status = co_await run_command(command, text, 30s);
          out << nlohmann::json{{"notify", notify.where},
                                {"command", command.front()},
                                {"status", status}}
                     .dump()
              << "\n";
          failed = failed || status != 0;
        }
      },
      asio::detached);
  context.run();
  return failed ? 1 : 0;
}

}  // namespace takehold::daemon
