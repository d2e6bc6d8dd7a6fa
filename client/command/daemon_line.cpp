#include "client/command/daemon_line.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "client/command/exposure.hpp"
#include "client/command/opened_book.hpp"
#include "client/link/find_daemon.hpp"

namespace takehold::client {

Link daemon_link(const Context& context) {
  const auto endpoint = find_daemon(context.options.daemon, context.settings.daemon);
  if (!endpoint) throw sensors::Refused(endpoint.error());
  return Link(LinkOptions{*endpoint});
}

std::vector<DeliveryOutcome> deliver_waiting(Book& book, const Link& link) {
  const auto waiting = book.waiting();
  if (waiting.empty()) return {};
  auto outcomes = link.deliver(waiting);
  book.settle(outcomes);
  const bool behind = std::any_of(outcomes.begin(), outcomes.end(),
                                  [](const DeliveryOutcome& o) { return o.is_behind(); });
  if (!behind) return outcomes;
  const auto again = link.deliver(book.waiting());
  book.settle(again);
  std::erase_if(outcomes, [](const DeliveryOutcome& o) { return o.is_behind(); });
  outcomes.insert(outcomes.end(), again.begin(), again.end());
  return outcomes;
}

namespace {

/// Says what still waits and why. False: nobody answers at all.
bool deliver_and_note(Context& context, Book& book, const Link& link) {
  bool answers = true;
  for (const DeliveryOutcome& outcome : deliver_waiting(book, link)) {
    if (outcome.delivery == Delivery::delivered) continue;
    const bool refused = outcome.delivery == Delivery::parked;
    answers = answers && refused;
    context.out.note({refused ? "daemon-refused" : "daemon-not-told", outcome.label,
                      fmt::format("the chamber's program {} {}: {}",
                                  refused ? "does not take" : "has not heard of", outcome.label,
                                  outcome.trouble)});
  }
  return answers;
}

}  // namespace

void tell_daemon(Context& context, Book& book) {
  if (book.waiting().empty() && exposures_owed(book, context.now).empty()) return;
  const auto endpoint = find_daemon(context.options.daemon, std::nullopt);
  if (!endpoint) {  // what was recorded stands: no reason to end in a refusal
    context.out.note({"daemon-not-told", "", endpoint.error().sentence()});
    return;
  }
  const Link link(LinkOptions{*endpoint});
  if (!deliver_and_note(context, book, link)) return;
  for (const ExposureAnswer& answer : fetch_exposures(book, link, context.now)) {
    if (answer.trouble.empty()) continue;
    context.out.note({"exposure-not-fetched", answer.batch,
                      fmt::format("what {} went through in the chamber is not in the book yet: {}",
                                  answer.batch, answer.trouble)});
  }
}

void tell_daemon_of_book(Context& context) {
  if (!std::filesystem::exists(book_path(context))) return;
  Book book = open_book(context, BookUse::reading);
  const Link link = daemon_link(context);
  deliver_waiting(book, link);
  fetch_exposures(book, link, context.now);
}

}  // namespace takehold::client
