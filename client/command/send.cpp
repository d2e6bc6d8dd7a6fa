// send: deliver what waits for the daemon.
#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "client/command/command_tree.hpp"
#include "client/command/daemon_line.hpp"
#include "client/command/opened_book.hpp"

namespace takehold::client {

namespace {

const char* word_for(Delivery delivery) {
  switch (delivery) {
    case Delivery::delivered:
      return "delivered";
    case Delivery::kept:
      return "kept";
    case Delivery::parked:
      return "parked";
  }
  return "kept";
}

void send(Context& context) {
  Book book = open_book(context, BookUse::reading);
  book.unpark();
  const auto outcomes = deliver_waiting(book, daemon_link(context));
  nlohmann::json list = nlohmann::json::array();
  std::string trouble;
  for (const DeliveryOutcome& outcome : outcomes) {
    const bool delivered = outcome.delivery == Delivery::delivered;
    context.out.line(fmt::format("{}: {}{}{}", outcome.label, word_for(outcome.delivery),
                                 delivered ? "" : ", ", outcome.trouble));
    list.push_back({{"label", outcome.label},
                    {"revision", outcome.revision},
                    {"delivery", word_for(outcome.delivery)},
                    {"trouble", delivered ? nlohmann::json() : nlohmann::json(outcome.trouble)}});
    if (outcome.delivery == Delivery::kept) trouble = outcome.trouble;
  }
  if (!trouble.empty()) {
    throw sensors::Refused({"daemon-not-told", "not everything could be delivered", trouble,
                            daemon_link(context).endpoint().text(), "it waits and is tried again"});
  }
  if (outcomes.empty()) context.out.line("Nothing waits for the chamber's program.");
  context.out.document({{"notices", std::move(list)}});
}

}  // namespace

void add_send(CommandTree& tree) {
  CLI::App& app = tree.command(
      "send", {kTheChamber, "tells the chamber's program what it has not heard yet",
               "Every recording command tries this by itself; what was refused is tried again too.",
               "send"});
  tree.action(app, [](Context& context) { send(context); });
}

}  // namespace takehold::client
