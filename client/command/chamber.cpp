// chamber: the chamber now.
#include <nlohmann/json.hpp>

#include "client/command/chamber_view.hpp"
#include "client/command/command_tree.hpp"
#include "client/command/daemon_line.hpp"

namespace takehold::client {

namespace {

void chamber(Context& context) {
  tell_daemon_of_book(context);
  const auto document = answered(daemon_link(context).status());
  const auto status = answered(daemon::status_message_from(document));
  const TerminalStyle& style = context.out.style();
  const auto lines = chamber_lines(status, status.at, context.units);
  for (const ScreenLine& line : broken_to_width(lines, style.width)) {
    context.out.line(inked(line.text, line.ink, style));
  }
  context.out.document(document);
}

}  // namespace

void add_chamber(CommandTree& tree) {
  CLI::App& app = tree.command(
      "chamber",
      {kTheChamber, "the chamber now: what it is, whether that is right, what comes next", "",
       "chamber"});
  tree.action(app, [](Context& context) { chamber(context); });
}

}  // namespace takehold::client
