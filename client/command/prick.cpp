// prick: seedlings set into cells of their own.
#include <fmt/format.h>

#include "client/command/command_tree.hpp"
#include "client/command/seedlings.hpp"
#include "client/command/standing.hpp"
#include "client/terminal/numbers.hpp"

namespace takehold::client {

Pricking prick(const Telling& telling, const std::string& typed_sowing, int plants) {
  const Sowing sowing = find_numbered<Sowing>(telling.book, typed_sowing);
  if (plants < 1) refuse("bad-count", "at least one is pricked out", "COUNT");
  const int standing = state_of(telling.book, sowing).standing.value_or(sowing.seeds);
  if (plants > standing) {
    refuse("more-than-stand", fmt::format("{} to prick out, {} stand", plants, standing),
           sowing.id);
  }
  Pricking record;
  telling.book.record(fmt::format("prick {} {}", sowing.id, plants), telling.now, [&](Recorder& r) {
    record = {r.next_number(Kind::pricking), sowing.id, telling.at, plants, telling.note};
    r.put(record);
  });
  return record;
}

void add_prick(CommandTree& tree) {
  struct Typed {
    std::string sowing, note;
    int plants = 0;
    TypedWhen when;
  };
  CLI::App& app =
      tree.command("prick", {kDaily, "seedlings set into cells of their own", "", "prick S1 8"});
  const auto words = std::make_shared<Typed>();
  app.add_option("sowing", words->sowing, "the sowing, as S1")->required();
  app.add_option("plants,--count", words->plants, "how many")->required();
  app.add_option("--note", words->note, "a word to remember");
  add_when(app, words->when);
  tree.action(app, [words](Context& context) {
    Book book = open_book(context, BookUse::recording);
    const Telling telling = telling_of(context, book, words->when, words->note);
    const Pricking record = prick(telling, words->sowing, words->plants);
    context.out.line(fmt::format("{}: {} pricked out", record.sowing,
                                 counted(record.plants, "seedling", "seedlings")));
    context.out.document(record_json(telling, record));
  });
}

}  // namespace takehold::client
