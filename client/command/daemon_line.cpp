#include "client/command/daemon_line.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "client/command/opened_book.hpp"
#include "client/link/find_daemon.hpp"

namespace takehold::client {

Link daemon_link(const Context& context) {
  const auto endpoint = find_daemon(context.options.daemon, std::nullopt);
  if (!endpoint) throw sensors::Refused(endpoint.error());
  return Link(LinkOptions{*endpoint});
}

std::vector<DeliveryOutcome> deliver_waiting(Book& book, const Link& link) {
  const auto waiting = book.waiting();
  if (waiting.empty()) return {};
  auto outcomes = link.deliver(waiting);
  book.settle(outcomes);
  return outcomes;
}

void tell_daemon(Context& context, Book& book) {
  if (book.waiting().empty()) return;
  const auto outcomes = deliver_waiting(book, daemon_link(context));
  for (const DeliveryOutcome& outcome : outcomes) {
    if (outcome.delivery == Delivery::delivered) continue;
    const bool refused = outcome.delivery == Delivery::parked;
    context.out.note({refused ? "daemon-refused" : "daemon-not-told", outcome.label,
                      fmt::format("the chamber's program {} {}: {}",
                                  refused ? "does not take" : "has not heard of", outcome.label,
                                  outcome.trouble)});
  }
}

void tell_daemon_of_book(Context& context) {
  if (!std::filesystem::exists(book_path(context.options))) return;
  Book book = open_book(context, BookUse::reading);
  deliver_waiting(book, daemon_link(context));
}

}  // namespace takehold::client
