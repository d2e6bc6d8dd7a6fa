// cull: spares thrown out or given away; no failures.
#include <fmt/format.h>

#include "client/command/command_tree.hpp"
#include "client/command/daemon_line.hpp"
#include "client/command/departure.hpp"

namespace takehold::client {

Cull cull(const Telling& telling, const std::string& subject, const Gone& gone, bool given) {
  const Departure departure = checked_departure(telling.book, subject, gone);
  Cull record;
  telling.book.record(fmt::format("cull {} --count {}", departure.subject, departure.count),
                      telling.now, [&](Recorder& r) {
                        record = {r.next_number(Kind::cull),
                                  departure.subject,
                                  telling.at,
                                  departure.count,
                                  departure.plants,
                                  given,
                                  telling.note};
                        r.put(record);
                      });
  return record;
}

void add_cull(CommandTree& tree) {
  struct Typed {
    std::string subject, note;
    TypedGone gone;
    bool given = false;
    TypedWhen when;
  };
  CLI::App& app = tree.command("cull", {kDaily, "spares thrown out or given away: no failures", "",
                                        "cull S1 --count 4\ncull G3 --plants 2 --given"});
  const auto words = std::make_shared<Typed>();
  app.add_option("subject", words->subject, "the sowing or batch, as S1 or G3")->required();
  app.add_option("--count", words->gone.count, "how many");
  app.add_option("--plants", words->gone.plants, "or which, by their numbers")->delimiter(',');
  app.add_flag("--given", words->given, "given away rather than thrown out");
  app.add_option("--note", words->note, "a word to remember");
  add_when(app, words->when);
  tree.action(app, [words](Context& context) {
    Book book = open_book(context, BookUse::recording);
    const Telling telling = telling_of(context, book, words->when, words->note);
    const Cull record = cull(telling, words->subject, words->gone.gone(), words->given);
    context.out.line(fmt::format("{}: {} {}", record.subject, record.count,
                                 record.given ? "given away" : "thrown out"));
    tell_daemon(context, book);
    context.out.document(record_json(telling, record));
  });
}

}  // namespace takehold::client
