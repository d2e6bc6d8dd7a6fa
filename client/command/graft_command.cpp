// The command line of graft, with the caution that belongs to blades.
#include <fmt/format.h>

#include <algorithm>
#include <istream>
#include <iterator>

#include "client/command/batch_view.hpp"
#include "client/command/command_tree.hpp"
#include "client/command/daemon_line.hpp"
#include "client/command/graft.hpp"
#include "client/command/moment.hpp"
#include "client/command/session.hpp"
#include "client/command/text_file.hpp"
#include "client/season/stem_text.hpp"
#include "client/terminal/numbers.hpp"
#include "client/terminal/text_width.hpp"

namespace takehold::client {

namespace {

// Lewandowski, Hayes & Adkins 2010, Plant Dis. 94:542 (a blade infects up to the 20th plant after;
// 20 % w/v dried skimmed milk with 0.1 % surfactant, or bleach 1:10, stopped it). Never with acid
// or ammonia, ventilated, gloved, eyes covered: Stanford EHS. Cut at 70 deg 92 % lived, at 45 deg
// 81 %, at 20 deg 79 %: Bausher 2013, HortScience 48(1):34.
constexpr const char* kCaution =
    "Blades: cut away from your fingers. A blade that cut one infected plant can infect the next "
    "twenty (published): between plants change it, or dip it in dried skimmed milk, 20 g to 100 ml "
    "of water with a drop of washing-up liquid, or in bleach 1 to 10 (0.6 % hypochlorite). Never "
    "mix "
    "bleach with acid or ammonia; gloves, covered eyes, an open window.";

struct Typed {
  GraftOrder order;
  std::vector<std::string> pairs;
  std::string pairs_file, method, note;
  std::optional<std::string> clip, started, humidity;
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

void check_usage(const Typed& words, const Context& context) {
  const int ways = (words.order.count ? 1 : 0) + (words.pairs_file.empty() ? 0 : 1) +
                   (words.pairs.empty() ? 0 : 1);
  if (ways == 1 || (ways == 0 && is_dialogue(context))) return;
  throw WrongUsage({"usage", "graft wants --count N, or pairs, or --pairs FILE", "", "graft",
                    "graft P1 --count 6, or graft P1 R7-S3 R2-S9"});
}

std::vector<SeedlingPair> pairs_typed(const Typed& words, const std::string& pairing,
                                      Context& context) {
  if (words.pairs_file.empty()) {
    std::string text;
    for (const auto& word : words.pairs) text += word + " ";
    return parse_pairs(text, "pairs");
  }
  const bool piped = words.pairs_file == "-";
  const std::string text = piped ? std::string(std::istreambuf_iterator<char>(context.in), {})
                                 : read_text_file(words.pairs_file);
  return read_pairs(text, piped ? "standard input" : words.pairs_file, pairing);
}

/// What was typed of the session beside its pairs.
void add_details(const Typed& words, const Telling& telling, GraftOrder& order) {
  if (!words.method.empty()) order.method = from_text<Method>(words.method);
  if (words.clip) order.clip = typed(parse_length(*words.clip, Units::metric, "--clip"));
  if (order.clip) order.clip = checked_stem(*order.clip).value();
  if (words.humidity)
    order.humidity_pct = typed(parse_humidity(*words.humidity, "--humidity")).pct();
  if (!words.started) return;
  const auto day = telling.book.time_zone().day_of(telling.at);
  order.started_at = moment_of(*words.started, "--started", day, telling.book);
}

/// " 40 min at the bench, 2.5 min a graft."
std::string pace_text(const Batch& batch) {
  if (!batch.started_at) return "";
  const auto took = std::chrono::duration<double>(batch.at - *batch.started_at).count();
  return fmt::format(" {:.0f} min at the bench, {:.1f} min a graft.", took / 60,
                     took / 60 / batch.count());
}

void say_batch(const Batch& batch, Context& context) {
  const std::string again =
      batch.repairs.empty() ? "" : fmt::format(" (failed grafts of {} made again)", batch.repairs);
  const int width = context.out.style().width;
  context.out.line(wrapped(
      fmt::format("{}: {} of {} on {}{}, {}, healing plan {}. Into the chamber with them.{}",
                  batch.id, counted(batch.count(), "graft", "grafts"), batch.scion, batch.rootstock,
                  again, to_text(batch.method), batch.regime, pace_text(batch)),
      width));
  context.out.line(fmt::format("Labels: takehold labels --batch {}", batch.id));
}

void run_graft(Typed words, Context& context) {
  check_usage(words, context);
  Book book = open_book(context, BookUse::recording);
  const Telling telling = telling_of(context, book, words.when, words.note);
  GraftOrder order = words.order;
  add_details(words, telling, order);
  if (words.pairs.empty() && words.pairs_file.empty() && !order.count) {
    order = ask_for_pairs(context, telling, order);
    if (order.pairs.empty() && !order.count) return context.out.line("Nothing recorded.");
  } else if (!order.count) {
    order.pairs = pairs_typed(words, find_pairing(book, order.pairing).id, context);
  }
  const Batch batch = graft(telling, order);
  say_batch(batch, context);
  if (is_first_of_the_day(book, batch)) {
    context.out.line(wrapped(kCaution, context.out.style().width));
  }
  note_room(book, batch, context);
  note_method(batch, context);
  tell_daemon(context, book);
  context.out.document(batch_json(state_of(book, batch), context.now));
}

void add_details(CLI::App& app, Typed& words) {
  app.add_option("--method", words.method, "left out: the pairing's")
      ->check(CLI::IsMember({"splice", "cleft", "side", "approach"}));
  app.add_option("--regime", words.order.regime, "the healing plan; left out: the season's");
  app.add_option("--by", words.order.by, "who cut");
  app.add_option("--clip", words.clip, "inner width of the clips, as 2.0");
  app.add_option("--angle", words.order.cut_angle_deg,
                 "of the cut, in degrees from square; 60 to 80 healed best (published)")
      ->check(CLI::Range(0.0, 90.0));
  app.add_option("--started", words.started, "the first cut, as 09:30; --at is the end");
  app.add_option("--lamp", words.order.lamp_umol, "light at the grafting bench, umol m-2 s-1")
      ->check(CLI::Range(0.0, 2500.0));
  app.add_option("--humidity", words.humidity, "of the air at the grafting bench, in %");
}

}  // namespace

void add_graft(CommandTree& tree) {
  CLI::App& app = tree.command(
      "graft",
      {kGrafting, "a session: grafts of one pairing, into the chamber",
       "Pairs as written on the bench: R7-S3 is rootstock 7 under scion 3; in full, or where\n"
       "several sowings can be meant, S12-7 S13-3. Typed, from a file (--pairs; - reads the\n"
       "input; what `match --json` printed will do), or asked for, pair after pair, where nothing\n"
       "is typed. --count where nobody noted who went onto whom. Each session is a batch of its\n"
       "own: several a day, and part of a plan's grafts, are usual. --repairs makes failed grafts\n"
       "again on their rootstocks; G6-3 is the one under that graft.",
       "graft P1 --count 6 --by me\ngraft P1 R7-S3 R2-S9 --clip 2.0 --angle 70 --started 09:30\n"
       "match P1 --json > pairs.json\ngraft P1 --pairs pairs.json\n"
       "graft P1 --repairs G6 G6-3 S13-9"});
  const auto words = std::make_shared<Typed>();
  app.add_option("pairing", words->order.pairing, "as P1 or \"Scion/Rootstock\"")->required();
  app.add_option("pairs", words->pairs, "who went onto whom, as R7-S3");
  app.add_option("--count", words->order.count, "how many grafts");
  app.add_option("--pairs", words->pairs_file, "a file that says who went onto whom; - the input");
  app.add_option("--rootstock-from", words->order.rootstock_from, "sowings")->delimiter(',');
  app.add_option("--scion-from", words->order.scion_from, "sowings")->delimiter(',');
  app.add_option("--repairs", words->order.repairs, "the batch whose failed grafts are made again");
  add_details(app, *words);
  app.add_option("--note", words->note, "a word to remember");
  add_when(app, words->when);
  tree.action(app, [words](Context& context) { run_graft(*words, context); });
}

}  // namespace takehold::client
