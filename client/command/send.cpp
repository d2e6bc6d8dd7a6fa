// send: deliver what waits for the daemon.
#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "client/command/bench_warmth.hpp"
#include "client/command/command_tree.hpp"
#include "client/command/daemon_line.hpp"
#include "client/command/exposure.hpp"
#include "client/command/opened_book.hpp"
#include "client/terminal/numbers.hpp"

namespace takehold::client {

namespace {

using nlohmann::json;

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

json or_null(const std::string& text) {
  return text.empty() ? json() : json(text);
}

/// Prints what became of each notice; the trouble is why the daemon did not answer, or empty.
json deliver(Context& context, Book& book, const Link& link, std::string& trouble) {
  json list = json::array();
  for (const DeliveryOutcome& outcome : deliver_waiting(book, link)) {
    const bool delivered = outcome.delivery == Delivery::delivered;
    context.out.line(fmt::format("{}: {}{}{}", outcome.label, word_for(outcome.delivery),
                                 delivered ? "" : ", ", outcome.trouble));
    list.push_back({{"label", outcome.label},
                    {"revision", outcome.revision},
                    {"delivery", word_for(outcome.delivery)},
                    {"trouble", delivered ? json() : json(outcome.trouble)}});
    if (outcome.delivery == Delivery::kept) trouble = outcome.trouble;
  }
  return list;
}

json fetch(Context& context, Book& book, const Link& link, std::string& trouble) {
  json list = json::array();
  for (const ExposureAnswer& answer : fetch_exposures(book, link, context.now)) {
    const bool kept = answer.trouble.empty();
    context.out.line(fmt::format("{}: {}", answer.batch,
                                 kept
                                     ? "what it went through is in the book now"
                                     : "what it went through is not known yet, " + answer.trouble));
    list.push_back({{"batch", answer.batch},
                    {"observed", answer.observed ? json(*answer.observed) : json()},
                    {"trouble", or_null(answer.trouble)}});
    if (!kept) trouble = answer.trouble;
  }
  return list;
}

json fetch_benches(Context& context, Book& book, const Link& link) {
  json list = json::array();
  const auto fetched = fetch_bench_hours(book, link, context.now);
  if (!fetched) return list;
  for (const BenchFetched& bench : *fetched) {
    context.out.line(fmt::format("{}: {} of its probe's log kept", bench.bench,
                                 counted(bench.hours, "hour", "hours")));
    list.push_back({{"bench", bench.bench}, {"probes", bench.probes}, {"hours", bench.hours}});
  }
  return list;
}

void send(Context& context) {
  Book book = open_book(context, BookUse::reading);
  const Link link = daemon_link(context);
  book.unpark();
  std::string trouble;
  json notices = deliver(context, book, link, trouble);
  json exposures = json::array();
  if (trouble.empty()) exposures = fetch(context, book, link, trouble);
  if (!trouble.empty()) {
    throw sensors::Refused({"daemon-not-told", "not everything could be delivered", trouble,
                            link.endpoint().text(), "it waits and is tried again"});
  }
  json benches = fetch_benches(context, book, link);
  if (notices.empty() && exposures.empty()) {
    context.out.line("Nothing waits for the chamber's program.");
  }
  context.out.document({{"notices", std::move(notices)},
                        {"exposures", std::move(exposures)},
                        {"benches", std::move(benches)}});
}

}  // namespace

void add_send(CommandTree& tree) {
  CLI::App& app = tree.command(
      "send",
      {kTheChamber, "tells the chamber's program what it has not heard yet",
       "Every recording command tries this by itself; what was refused is tried again too. It\n"
       "also fetches what the probes of the benches logged, as growth and forecast do.",
       "send"});
  tree.action(app, [](Context& context) { send(context); });
}

}  // namespace takehold::client
