// emerged: how many seedlings of a sowing stand, a total.
#include <fmt/format.h>

#include "client/command/command_tree.hpp"
#include "client/command/seedlings.hpp"
#include "client/command/standing.hpp"
#include "client/terminal/numbers.hpp"

namespace takehold::client {

Emerged emerged(const Telling& telling, const std::string& typed_sowing, int standing) {
  const Sowing sowing = find_numbered<Sowing>(telling.book, typed_sowing);
  if (standing < 0) refuse("bad-count", "a count is not negative", "COUNT");
  if (standing > sowing.seeds) {
    refuse("more-than-sown",
           fmt::format("{} standing, but {} were sown", standing,
                       counted(sowing.seeds, "seed", "seeds")),
           sowing.id);
  }
  const auto before = state_of(telling.book, sowing).standing;
  if (before && standing < *before) {
    refuse("fewer-than-before", fmt::format("{} stood before, now {}", *before, standing),
           sowing.id,
           fmt::format("what became of them? takehold lose {} --count {} --cause ...", sowing.id,
                       *before - standing));
  }
  Emerged record;
  telling.book.record(
      fmt::format("emerged {} {}", sowing.id, standing), telling.now, [&](Recorder& r) {
        record = {r.next_number(Kind::emerged), sowing.id, telling.at, standing, telling.note};
        r.put(record);
      });
  return record;
}

void add_emerged(CommandTree& tree) {
  struct Typed {
    std::string sowing, note;
    int standing = 0;
    TypedWhen when;
  };
  CLI::App& app = tree.command(
      "emerged", {kDaily, "how many seedlings of a sowing stand: the total, not the new ones",
                  "Fewer than before is a loss, and wants its cause: see lose.", "emerged S1 9"});
  const auto words = std::make_shared<Typed>();
  app.add_option("sowing", words->sowing, "the sowing, as S1")->required();
  app.add_option("standing,--standing,--count", words->standing, "plants standing")->required();
  app.add_option("--note", words->note, "a word to remember");
  add_when(app, words->when);
  tree.action(app, [words](Context& context) {
    Book book = open_book(context, BookUse::recording);
    const Telling telling = telling_of(context, book, words->when, words->note);
    const Emerged record = emerged(telling, words->sowing, words->standing);
    context.out.line(fmt::format("{}: {} standing", record.sowing, record.standing));
    context.out.document(record_json(telling, record));
  });
}

}  // namespace takehold::client
