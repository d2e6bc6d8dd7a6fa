// watch: the chamber, live, until q or Ctrl-C. A daemon that goes away is waited for.
#include <fmt/format.h>

#include <chrono>
#include <nlohmann/json.hpp>
#include <thread>

#include "client/command/answer_warning.hpp"
#include "client/command/command_tree.hpp"
#include "client/command/daemon_line.hpp"
#include "client/command/watch_screen.hpp"
#include "client/terminal/live_screen.hpp"
#include "sensors/quantity/machine_zone.hpp"

namespace takehold::client {

namespace {

using namespace std::chrono_literals;

constexpr auto kPeriod = 2000ms;

void ask(const Link& link, Watched& watched, const WatchView& view) {
  const auto document = link.status();
  const auto status = document ? daemon::status_message_from(*document) : document.error();
  if (!status) {
    watched.trouble = status.error().sentence();
    if (!watched.trouble_since)
      watched.trouble_since =
          std::chrono::floor<std::chrono::milliseconds>(std::chrono::system_clock::now());
    return;
  }
  watched = {*status, std::move(watched.past), "", {}};
  const auto readings =
      link.readings({{}, status->at - view.span, status->at, std::max(20, view.columns - 8)});
  if (!readings) return;
  if (const auto past = daemon::readings_message_from(*readings)) watched.past = *past;
}

/// The first warning that waits for this answer, answered; what became of it.
std::string answer(const Link& link, const Watched& watched, bool quiet) {
  if (!watched.status) return "there is nothing to answer";
  for (const auto& warning : watched.status->warnings) {
    if (quiet ? warning.shelved_until.has_value() : warning.acknowledged_at.has_value()) continue;
    const auto told =
        quiet ? shelve(link, warning.id, watched.status->at + 2h) : acknowledge(link, warning.id);
    if (!told) return warning.id + ": " + told.error().sentence();
    return warning.id + (quiet ? ": quiet for 2 h" : ": noted that you have seen it");
  }
  return quiet ? "no warning is loud" : "no warning waits to be seen";
}

/// True: end.
bool obey(int key, const Link& link, const Watched& watched, WatchView& view) {
  view.answer.clear();
  switch (key) {
    case 'q':
    case LiveScreen::kInterrupt:
      return true;
    case 's':
    case 'k':
      view.answer = answer(link, watched, key == 'k');
      break;
    case '+':
      view.span = std::min(view.span * 2, std::chrono::hours(192));
      break;
    case '-':
      view.span = std::max(view.span / 2, std::chrono::hours(1));
      break;
    default:
      break;
  }
  return false;
}

void watch_live(Context& context) {
  const Link link = daemon_link(context);
  LiveScreen screen(context.out.style());
  const auto zone = sensors::machine_zone();
  Watched watched;
  WatchView view;
  view.style = screen.style();
  while (true) {
    view.columns = screen.columns();
    view.rows = screen.rows();
    ask(link, watched, view);
    const auto now = watched.status ? watched.status->at : context.now;
    screen.show(watch_screen(watched, view, now, zone));
    const auto key = screen.key(kPeriod);
    if (key && obey(*key, link, watched, view)) return;
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
    context.out.is_json() ? watch_json(context) : watch_live(context);
  });
}

}  // namespace takehold::client
