// watch: the chamber, live, until q or Ctrl-C. A daemon that goes away is waited for.
#include <fmt/format.h>

#include <chrono>
#include <nlohmann/json.hpp>
#include <thread>

#include "client/command/chamber_view.hpp"
#include "client/command/command_tree.hpp"
#include "client/command/daemon_line.hpp"

namespace takehold::client {

namespace {

using namespace std::chrono_literals;

constexpr auto kPeriod = 2000ms;

/// The last thing known and what became of the last question.
struct Watched {
  std::optional<daemon::StatusMessage> status;
  std::string trouble;  ///< empty while the daemon answers
};

void ask(const Link& link, Watched& watched) {
  const auto document = link.status();
  if (!document) {
    watched.trouble = document.error().sentence();
    return;
  }
  const auto status = daemon::status_message_from(*document);
  watched.trouble = status ? "" : status.error().sentence();
  if (status) watched.status = *status;
}

std::vector<ScreenLine> screen_of(const Watched& watched, Units units) {
  std::vector<ScreenLine> lines;
  if (watched.status) lines = chamber_lines(*watched.status, watched.status->at, units);
  if (!watched.trouble.empty()) {
    lines.insert(
        lines.begin(),
        {"NO ANSWER from the chamber's program; what stands below is old: " + watched.trouble,
         Ink::bad});
  }
  lines.push_back({});
  lines.push_back({"q ends", Ink::faint});
  return lines;
}

void watch_screen(Context& context) {
  const Link link = daemon_link(context);
  LiveScreen screen(context.out.style());
  Watched watched;
  while (true) {
    ask(link, watched);
    screen.show(screen_of(watched, context.units));
    const auto key = screen.key(kPeriod);
    if (key && (*key == 'q' || *key == LiveScreen::kInterrupt)) return;
  }
}

/// One object a line until interrupted; a daemon that does not answer is an object, too.
void watch_json(Context& context) {
  const Link link = daemon_link(context);
  while (true) {
    const auto status = link.status();
    context.out.stream_line(status ? *status : error_json(status.error()));
    std::this_thread::sleep_for(kPeriod);
  }
}

}  // namespace

void add_watch(CommandTree& tree) {
  CLI::App& app = tree.command(
      "watch", {kTheChamber, "the chamber, live: values with their band, stages, warnings",
                "q ends it. With --json one object a line, until interrupted.", "watch"});
  tree.action(app, [](Context& context) {
    context.out.is_json() ? watch_json(context) : watch_screen(context);
  });
}

}  // namespace takehold::client
