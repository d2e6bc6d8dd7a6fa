// thin: seedlings taken out because a cell held too many.
#include <fmt/format.h>

#include "client/command/command_tree.hpp"
#include "client/command/seedlings.hpp"
#include "client/command/standing.hpp"
#include "client/terminal/numbers.hpp"

namespace takehold::client {

Thinning thin(const Telling& telling, const std::string& typed_sowing, int removed) {
  const Sowing sowing = find_numbered<Sowing>(telling.book, typed_sowing);
  if (removed < 1) refuse("bad-count", "at least one is taken out", "COUNT");
  const int standing = state_of(telling.book, sowing).standing.value_or(sowing.seeds);
  if (removed > standing) {
    refuse("more-than-stand", fmt::format("{} to take out, {} stand", removed, standing),
           sowing.id);
  }
  Thinning record;
  telling.book.record(fmt::format("thin {} {}", sowing.id, removed), telling.now, [&](Recorder& r) {
    record = {r.next_number(Kind::thinning), sowing.id, telling.at, removed, telling.note};
    r.put(record);
  });
  return record;
}

void add_thin(CommandTree& tree) {
  struct Typed {
    std::string sowing, note;
    int removed = 0;
    TypedWhen when;
  };
  CLI::App& app = tree.command(
      "thin",
      {kDaily, "seedlings taken out because a cell held too many; no failures", "", "thin S1 3"});
  const auto words = std::make_shared<Typed>();
  app.add_option("sowing", words->sowing, "the sowing, as S1")->required();
  app.add_option("removed,--count", words->removed, "how many were taken out")->required();
  app.add_option("--note", words->note, "a word to remember");
  add_when(app, words->when);
  tree.action(app, [words](Context& context) {
    Book book = open_book(context, BookUse::recording);
    const Telling telling = telling_of(context, book, words->when, words->note);
    const Thinning record = thin(telling, words->sowing, words->removed);
    context.out.line(fmt::format("{}: {} taken out", record.sowing, record.removed));
    context.out.document(record_json(telling, record));
  });
}

}  // namespace takehold::client
