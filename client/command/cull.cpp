// cull: spares thrown out or given away; no failures.
#include <fmt/format.h>

#include "client/command/departure.hpp"

namespace takehold::client {

Cull cull(const Telling& telling, const std::string& subject, const Gone& gone, bool given) {
  const Departure departure = checked_departure(telling.book, subject, gone);
  return record_departure<Cull>(
      telling, departure, fmt::format("cull {} --count {}", departure.subject, departure.count),
      given);
}

void add_cull(CommandTree& tree) {
  struct Typed : TypedDeparture {
    bool given = false;
  };
  CLI::App& app = tree.command("cull", {kDaily, "spares thrown out or given away: no failures", "",
                                        "cull S1 --count 4\ncull G3 --plants 2 --given"});
  const auto words = std::make_shared<Typed>();
  words->add_to(app);
  app.add_flag("--given", words->given, "given away rather than thrown out");
  tree.action(app, [words](Context& context) {
    Book book = open_book(context, BookUse::recording);
    const Telling telling = telling_of(context, book, words->when, words->note);
    const Cull record = cull(telling, words->subject, words->gone(), words->given);
    tell_departure(context, telling, record,
                   fmt::format("{}: {} {}", record.subject, record.count,
                               record.given ? "given away" : "thrown out"));
  });
}

}  // namespace takehold::client
