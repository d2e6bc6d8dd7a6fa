// move: trays carried to another place.
#include <fmt/format.h>

#include "client/command/command_tree.hpp"
#include "client/command/daemon_line.hpp"
#include "client/command/exposure.hpp"
#include "client/command/seedlings.hpp"
#include "client/command/standing.hpp"
#include "client/season/place.hpp"

namespace takehold::client {

namespace {

/// A bench by its name, cut or whole, or the chamber.
std::string place_named(const Book& book, const std::string& typed_place) {
  return typed_place == kChamber ? typed_place : find_typed<Bench>(book, typed_place).name;
}

/// The key and the present place of a sowing or a batch.
std::pair<std::string, std::string> subject_of(const Book& book, const std::string& subject) {
  if (kind_of_key(subject) == Kind::batch) {
    const auto state = state_of(book, find_numbered<Batch>(book, subject));
    return {state.batch.id, state.place};
  }
  const auto state = state_of(book, find_numbered<Sowing>(book, subject));
  return {state.sowing.id, state.place};
}

}  // namespace

Move move(const Telling& telling, const std::string& subject, const std::string& place) {
  const auto [key, from] = subject_of(telling.book, subject);
  const std::string to = place_named(telling.book, place);
  if (to == from) refuse("already-there", fmt::format("it stands in {} already", to), key);
  Move record;
  telling.book.record(
      fmt::format("move {} --to \"{}\"", key, to), telling.now,
      [&, subject_key = key](Recorder& r) {
        record = {r.next_number(Kind::move), subject_key, telling.at, to, telling.note};
        r.put(record);
      });
  return record;
}

void add_move(CommandTree& tree) {
  struct Typed {
    std::string subject, place, note;
    TypedWhen when;
  };
  CLI::App& app =
      tree.command("move", {kDaily, "trays carried to another place: a sowing or a batch",
                            "Out of the chamber a batch is watched no longer.",
                            "move S1 --to \"cold frame\"\nmove G3 --to cold"});
  const auto words = std::make_shared<Typed>();
  app.add_option("subject", words->subject, "the sowing or batch, as S1 or G3")->required();
  app.add_option("--to", words->place, "a bench, or chamber")->required();
  app.add_option("--note", words->note, "a word to remember");
  add_when(app, words->when);
  tree.action(app, [words](Context& context) {
    Book book = open_book(context, BookUse::recording);
    const Telling telling = telling_of(context, book, words->when, words->note);
    const Move record = move(telling, words->subject, words->place);
    context.out.line(fmt::format("{} stands in {} now", record.subject, record.to));
    tell_daemon(context, book);
    nlohmann::json document = record_json(telling, record);
    document["exposure"] = exposure_json(book, record.subject);
    context.out.document(std::move(document));
  });
}

}  // namespace takehold::client
