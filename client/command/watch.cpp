// watch: the chamber, live, until q or Ctrl-C. A daemon that goes away is waited for.
#include <fmt/format.h>

#include <chrono>
#include <nlohmann/json.hpp>

#include "client/command/answer_warning.hpp"
#include "client/command/command_tree.hpp"
#include "client/command/daemon_line.hpp"
#include "client/command/past_window.hpp"
#include "client/command/watch_screen.hpp"
#include "client/link/live_feed.hpp"
#include "client/terminal/live_screen.hpp"
#include "sensors/quantity/machine_zone.hpp"

namespace takehold::client {

namespace {

using namespace std::chrono_literals;

constexpr auto kFrame = 500ms;  ///< keys are heard and ages counted this often
constexpr auto kAnew = 10min;   ///< late readings fill columns that are over: all is asked again

/// The newest that was heard goes into `watched`. True: something came.
bool hear(LiveFeed& feed, Watched& watched, std::chrono::milliseconds wait) {
  const auto heard = feed.next(wait);
  if (!heard) return false;
  const auto status = *heard ? daemon::status_message_from(**heard) : heard->error();
  if (!status) {
    watched.trouble = status.error().sentence();
    if (!watched.trouble_since)
      watched.trouble_since =
          std::chrono::floor<std::chrono::milliseconds>(std::chrono::system_clock::now());
    return true;
  }
  watched.trouble.clear();
  watched.trouble_since.reset();
  watched.status = *status;
  watched.heard_at = std::chrono::steady_clock::now();
  return true;
}

void draw_on(const Link& link, Watched& watched, const WatchView& view) {
  const auto now = watched.status->at;
  if (!watched.whole_at || now - *watched.whole_at > kAnew) watched.past.reset();
  const auto window = past_window(view.span, std::max(20, view.columns - 8), now);
  for (int tries = 0; tries < 2; ++tries) {
    const auto wanted = missing_of(window, watched.past);
    const auto readings = link.readings(wanted);
    if (!readings) return;
    auto newer = daemon::readings_message_from(*readings);
    if (!newer) return;
    if (wanted.from == window.from()) watched.whole_at = now;
    watched.past = moved_on(window, watched.past, *std::move(newer));
    if (watched.past) return;
  }
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

/// By the daemon's clock; between two statuses time goes on.
sensors::Instant shown_at(const Watched& watched) {
  using std::chrono::steady_clock;
  const auto since = steady_clock::now() - watched.heard_at;
  return watched.status->at + std::chrono::floor<std::chrono::milliseconds>(since);
}

void watch_live(Context& context) {
  const Link link = daemon_link(context);
  LiveScreen screen(context.out.style());
  const auto zone = sensors::machine_zone();
  LiveFeed feed(link.options());
  Watched watched;
  WatchView view;
  view.style = screen.style();
  bool lay_out = true;
  while (true) {
    lay_out = view.columns != screen.columns() || lay_out;
    view.columns = screen.columns();
    view.rows = screen.rows();
    lay_out = hear(feed, watched, 0ms) || lay_out;
    if (lay_out && watched.status && watched.trouble.empty()) draw_on(link, watched, view);
    lay_out = false;
    const auto now = watched.status ? shown_at(watched) : context.now;
    screen.show(watch_screen(watched, view, now, zone));
    const auto key = screen.key(kFrame);
    if (!key) continue;
    if (obey(*key, link, watched, view)) return;
    lay_out = true;
  }
}

/// One object a line until interrupted; a daemon that does not answer is an object, too.
void watch_json(Context& context) {
  LiveFeed feed(daemon_link(context).options());
  while (true) {
    const auto heard = feed.next(1h);
    if (heard) context.out.stream_line(*heard ? **heard : error_json(heard->error()));
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
