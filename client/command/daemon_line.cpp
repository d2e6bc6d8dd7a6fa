#include "client/command/daemon_line.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <filesystem>
#include <set>

#include "client/command/exposure.hpp"
#include "client/command/opened_book.hpp"
#include "client/link/find_daemon.hpp"
#include "daemon/http/secret_file.hpp"

namespace takehold::client {

sensors::Result<Link> link_of(const Context& context) {
  const auto endpoint = find_daemon(context.options.daemon, context.settings.daemon);
  if (!endpoint) return endpoint.error();
  LinkOptions options{*endpoint};
  if (context.settings.token_file && endpoint->kind != daemon::Endpoint::Kind::unix_socket) {
    const auto token = daemon::read_secret(*context.settings.token_file);
    if (!token) return token.error();
    options.token = *token;
  }
  return Link(std::move(options));
}

Link daemon_link(const Context& context) {
  return answered(link_of(context));
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

/// The labels that no try was made for before: their trouble is news, that of the others was said
/// when it began and stands in `today`.
std::set<std::string> never_tried(const Book& book) {
  std::set<std::string> labels;
  for (const Notice& notice : book.waiting()) {
    if (notice.tries == 0) labels.insert(notice.label);
  }
  return labels;
}

void note_waiting(Context& context, const std::vector<std::string>& labels,
                  const std::string& trouble) {
  if (labels.empty()) return;
  context.out.note({"daemon-not-told", labels.front(),
                    fmt::format("the chamber's program has not heard of {} yet: {}",
                                fmt::join(labels, ", "), trouble)});
}

/// Says what is refused, and what waits from now on. False: nobody answers at all.
bool deliver_and_note(Context& context, Book& book, const Link& link) {
  const auto news = never_tried(book);
  std::vector<std::string> waiting;
  std::string trouble;
  for (const DeliveryOutcome& outcome : deliver_waiting(book, link)) {
    if (outcome.delivery == Delivery::kept) trouble = outcome.trouble;
    if (outcome.delivery == Delivery::kept && news.contains(outcome.label))
      waiting.push_back(outcome.label);
    if (outcome.delivery == Delivery::parked)
      context.out.note({"daemon-refused", outcome.label,
                        fmt::format("the chamber's program does not take {}: {}", outcome.label,
                                    outcome.trouble)});
  }
  note_waiting(context, waiting, trouble);
  return trouble.empty();
}

/// No daemon is known to this run: what was recorded stands, so it is no reason to end in a
/// refusal.
void keep_waiting(Context& context, Book& book, const std::string& trouble) {
  const auto news = never_tried(book);
  std::vector<DeliveryOutcome> outcomes;
  for (const Notice& notice : book.waiting()) {
    if (!notice.parked)
      outcomes.push_back({notice.label, notice.revision, Delivery::kept, trouble, {}});
  }
  book.settle(outcomes);
  note_waiting(context, {news.begin(), news.end()}, trouble);
}

}  // namespace

void tell_daemon(Context& context, Book& book) {
  if (book.waiting().empty() && exposures_owed(book, context.now).empty()) return;
  const auto link = link_of(context);
  if (!link) return keep_waiting(context, book, link.error().sentence());
  if (!deliver_and_note(context, book, *link)) return;
  for (const ExposureAnswer& answer : fetch_exposures(book, *link, context.now)) {
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
