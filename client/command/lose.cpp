// lose: plants that died, and of what.
#include <fmt/format.h>

#include "client/command/departure.hpp"
#include "client/command/standing.hpp"

namespace takehold::client {

Loss lose(const Telling& telling, const std::string& subject, const Gone& gone, Cause cause) {
  const Departure departure = checked_departure(telling.book, subject, gone);
  if (const auto batch = telling.book.find<Batch>(departure.subject)) {
    if (state_of(telling.book, *batch).finish) {
      refuse("already-finished", "its takes are counted; what dies now is no failed graft",
             departure.subject, fmt::format("takehold cull {} --count N", departure.subject));
    }
  }
  return record_departure<Loss>(telling, departure,
                                fmt::format("lose {} --count {} --cause {}", departure.subject,
                                            departure.count, to_text(cause)),
                                cause);
}

void add_lose(CommandTree& tree) {
  struct Typed : TypedDeparture {
    std::string cause = "unknown";
  };
  CLI::App& app = tree.command(
      "lose", {kDaily, "plants that died: of a sowing or a batch",
               "Causes: wilted rotted slipped damped-off pest accident unknown. Spares thrown out\n"
               "are no losses: see cull.",
               "lose S1 --count 2 --cause damped-off\nlose G3 --plants 3,5 --cause wilted"});
  const auto words = std::make_shared<Typed>();
  words->add_to(app);
  app.add_option("--cause", words->cause, "of what: " + choices<Cause>());
  tree.action(app, [words](Context& context) {
    const auto cause = from_text<Cause>(words->cause);
    if (!cause) {
      throw WrongUsage({"unknown-cause", "\"" + words->cause + "\" is no cause known here", "",
                        "--cause", choices<Cause>()});
    }
    Book book = open_book(context, BookUse::recording);
    const Telling telling = telling_of(context, book, words->when, words->note);
    const Loss record = lose(telling, words->subject, words->gone(), *cause);
    tell_departure(
        context, telling, record,
        fmt::format("{}: {} lost, {}", record.subject, record.count, to_text(record.cause)));
  });
}

}  // namespace takehold::client
