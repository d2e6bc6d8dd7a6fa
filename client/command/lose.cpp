// lose: plants that died, and of what.
#include <fmt/format.h>

#include "client/command/command_tree.hpp"
#include "client/command/daemon_line.hpp"
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
  Loss record;
  telling.book.record(fmt::format("lose {} --count {} --cause {}", departure.subject,
                                  departure.count, to_text(cause)),
                      telling.now, [&](Recorder& r) {
                        record = {r.next_number(Kind::loss),
                                  departure.subject,
                                  telling.at,
                                  departure.count,
                                  departure.plants,
                                  cause,
                                  telling.note};
                        r.put(record);
                      });
  return record;
}

void add_lose(CommandTree& tree) {
  struct Typed {
    std::string subject, note;
    std::string cause = "unknown";
    TypedGone gone;
    TypedWhen when;
  };
  CLI::App& app = tree.command(
      "lose", {kDaily, "plants that died: of a sowing or a batch",
               "Causes: wilted rotted slipped damped-off pest accident unknown. Spares thrown out\n"
               "are no losses: see cull.",
               "lose S1 --count 2 --cause damped-off\nlose G3 --plants 3,5 --cause wilted"});
  const auto words = std::make_shared<Typed>();
  app.add_option("subject", words->subject, "the sowing or batch, as S1 or G3")->required();
  app.add_option("--count", words->gone.count, "how many");
  app.add_option("--plants", words->gone.plants, "or which, by their numbers")->delimiter(',');
  app.add_option("--cause", words->cause, "of what: " + choices<Cause>());
  app.add_option("--note", words->note, "a word to remember");
  add_when(app, words->when);
  tree.action(app, [words](Context& context) {
    const auto cause = from_text<Cause>(words->cause);
    if (!cause) {
      throw WrongUsage({"unknown-cause", "\"" + words->cause + "\" is no cause known here", "",
                        "--cause", choices<Cause>()});
    }
    Book book = open_book(context, BookUse::recording);
    const Telling telling = telling_of(context, book, words->when, words->note);
    const Loss record = lose(telling, words->subject, words->gone.gone(), *cause);
    context.out.line(
        fmt::format("{}: {} lost, {}", record.subject, record.count, to_text(record.cause)));
    tell_daemon(context, book);
    context.out.document(record_json(telling, record));
  });
}

}  // namespace takehold::client
