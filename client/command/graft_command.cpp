// The command line of graft, with the caution that belongs to blades.
#include <fmt/format.h>

#include <algorithm>

#include "client/command/batch_view.hpp"
#include "client/command/command_tree.hpp"
#include "client/command/daemon_line.hpp"
#include "client/command/graft.hpp"
#include "client/command/text_file.hpp"
#include "client/terminal/numbers.hpp"
#include "client/terminal/text_width.hpp"

namespace takehold::client {

namespace {

// One infected plant infects up to the 20th cut after it; bleach 1:10 stopped it: Lewandowski,
// Hayes & Adkins 2010, Plant Dis. 94:542. Never with acid or ammonia, aired, gloved: common safety
// practice for hypochlorite.
constexpr const char* kCaution =
    "Blades: cut away from your fingers. Dip or change the blade between plants: one infected "
    "plant "
    "can infect the next twenty. Bleach 1 to 10 serves; never mix it with acid or ammonia, and "
    "wear "
    "gloves, cover your eyes and air the room.";

struct Typed {
  GraftOrder order;
  std::string pairs_file, method, note;
  TypedWhen when;
};

/// The caution is said at the first session of a day, not at each of its batches.
bool is_first_of_the_day(const Book& book, const Batch& batch) {
  const auto day = book.time_zone().day_of(batch.at);
  const auto batches = book.all<Batch>();
  return std::none_of(batches.begin(), batches.end(), [&](const Batch& other) {
    return other.id != batch.id && book.time_zone().day_of(other.at) == day;
  });
}

void note_room(const Book& book, const Batch& batch, Context& context) {
  const auto season = book.find<Season>("season");
  if (!season || !season->places) return;
  int taken = 0;
  for (const Batch& other : book.all<Batch>()) {
    const auto state = state_of(book, other);
    if (!state.finish && state.place == kChamber) taken += state.living();
  }
  if (taken > *season->places) {
    context.out.note({"chamber-full", batch.id,
                      fmt::format("{} grafts in a chamber of {} places", taken, *season->places)});
  }
}

void note_method(const Batch& batch, Context& context) {
  const auto methods = regime_of(batch).methods;
  const std::string method(to_text(batch.method));
  if (methods.empty() || std::find(methods.begin(), methods.end(), method) != methods.end()) return;
  context.out.note(
      {"method-unsuited", batch.regime,
       fmt::format("the healing plan {} is not made for {} grafts", batch.regime, method)});
}

void run_graft(Typed words, Context& context) {
  if (words.order.count.has_value() == !words.pairs_file.empty()) {
    throw WrongUsage(
        {"usage", "graft wants --count N or --pairs FILE", "", "graft", "graft P1 --count 6"});
  }
  if (!words.pairs_file.empty()) {
    words.order.pairs = read_pairs(read_text_file(words.pairs_file), words.pairs_file);
  }
  if (!words.method.empty()) words.order.method = from_text<Method>(words.method);
  Book book = open_book(context, BookUse::recording);
  const Telling telling = telling_of(context, book, words.when, words.note);
  const Batch batch = graft(telling, words.order);
  context.out.line(
      fmt::format("{}: {} of {} on {}, {}, healing plan {}. Into the chamber with them.", batch.id,
                  counted(batch.count(), "graft", "grafts"), batch.scion, batch.rootstock,
                  to_text(batch.method), batch.regime));
  if (is_first_of_the_day(book, batch))
    context.out.line(wrapped(kCaution, context.out.style().width));
  note_room(book, batch, context);
  note_method(batch, context);
  tell_daemon(context, book);
  context.out.document(batch_json(state_of(book, batch), context.now));
}

}  // namespace

void add_graft(CommandTree& tree) {
  CLI::App& app = tree.command(
      "graft", {kGrafting, "a session: grafts of one pairing, into the chamber",
                "--pairs takes what `match P --json` printed, or a line a pair: S12-5 S13-2.",
                "graft P1 --count 6 --by me\nmatch P1 --json > pairs.json\n"
                "graft P1 --pairs pairs.json"});
  const auto words = std::make_shared<Typed>();
  app.add_option("pairing", words->order.pairing, "as P1 or \"Scion/Rootstock\"")->required();
  app.add_option("--count", words->order.count, "how many grafts");
  app.add_option("--pairs", words->pairs_file, "a file that says which seedling onto which");
  app.add_option("--method", words->method, "left out: the pairing's")
      ->check(CLI::IsMember({"splice", "cleft", "side", "approach"}));
  app.add_option("--regime", words->order.regime, "the healing plan; left out: the season's");
  app.add_option("--by", words->order.by, "who cut");
  app.add_option("--rootstock-from", words->order.rootstock_from, "sowings")->delimiter(',');
  app.add_option("--scion-from", words->order.scion_from, "sowings")->delimiter(',');
  app.add_option("--note", words->note, "a word to remember");
  add_when(app, words->when);
  tree.action(app, [words](Context& context) { run_graft(*words, context); });
}

}  // namespace takehold::client
