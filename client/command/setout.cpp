// setout: plants into the bed where they stay, the union above the soil.
#include <fmt/format.h>

#include <algorithm>

#include "client/command/command_tree.hpp"
#include "client/command/departure.hpp"
#include "client/command/grown.hpp"
#include "client/season/ranges.hpp"
#include "client/terminal/numbers.hpp"

namespace takehold::client {
namespace {

void check_union(const GrownPlants& plants, const SetOutOrder& order) {
  if (!order.union_height) return;
  if (!plants.grafted) {
    refuse("no-union", "plants on their own roots have no union", plants.subject,
           "leave out --union");
  }
  if (*order.union_height < kLowestUnion || *order.union_height > kHighestUnion) {
    refuse("out-of-range", "a union stands between 30 cm below the soil and 1 m above it",
           "--union", "as 60mm or 6cm");
  }
}

void check_not_planted(const Book& book, const std::string& subject,
                       const std::vector<int>& plants) {
  for (const SetOut& before : book.all<SetOut>()) {
    if (before.subject != subject) continue;
    for (const int plant : before.plants) {
      if (std::find(plants.begin(), plants.end(), plant) == plants.end()) continue;
      refuse("twice", fmt::format("plant {} was set out already", plant), "--plants");
    }
  }
}

int checked_count(const GrownPlants& plants, const SetOutOrder& order) {
  const int named = static_cast<int>(order.plants.size());
  const int count = order.count.value_or(named > 0 ? named : plants.to_set_out());
  if (named > 0 && named != count) {
    refuse("bad-count", fmt::format("{} plants named, but a count of {}", named, count), "--count");
  }
  if (plants.to_set_out() <= 0) {
    refuse("more-than-stand", "none is left to be set out", plants.subject);
  }
  if (count < 1) refuse("bad-count", "at least one is set out", "--count");
  if (count > plants.to_set_out()) {
    refuse("more-than-stand",
           fmt::format("{} to set out, {} stand outside beds", count, plants.to_set_out()),
           plants.subject);
  }
  return count;
}

std::string set_out_text(const SetOut& record, Units units) {
  std::string text =
      fmt::format("{}: {} set out", record.subject, counted(record.count, "plant", "plants"));
  if (!record.bed.empty()) text += " in " + record.bed;
  if (record.union_height) {
    text += fmt::format(", union {} above the soil", shown(*record.union_height, units, 0));
  }
  return text;
}

}  // namespace

SetOut set_out(const Telling& telling, const std::string& subject, const SetOutOrder& order) {
  const GrownPlants plants = grown_plants(telling.book, subject);
  check_plant_numbers(plants.subject, plants.numbers, order.plants);
  check_not_planted(telling.book, plants.subject, order.plants);
  check_union(plants, order);
  SetOut record{"",
                plants.subject,
                telling.at,
                typed_bed(telling.book, order.bed),
                checked_count(plants, order),
                order.plants,
                order.union_height,
                telling.note};
  telling.book.record(fmt::format("setout {} --count {}", record.subject, record.count),
                      telling.now, [&](Recorder& r) {
                        record.id = r.next_number(Kind::set_out);
                        r.put(record);
                      });
  return record;
}

namespace {

struct Typed {
  std::string subject, note, union_height;
  SetOutOrder order;
  TypedWhen when;
};

void run_setout(const Typed& words, Context& context) {
  Book book = open_book(context, BookUse::recording);
  SetOutOrder order = words.order;
  if (!words.union_height.empty()) {
    order.union_height = typed(parse_length(words.union_height, context.units, "--union"));
  }
  const Telling telling = telling_of(context, book, words.when, words.note);
  const SetOut record = set_out(telling, words.subject, order);
  context.out.line(set_out_text(record, context.units));
  if (record.union_height && *record.union_height < kLowUnion) {
    context.out.note({"low-union", record.subject,
                      "the union is close to the soil: roots that grow from the scion pass the "
                      "rootstock by, and its resistance with it"});
  }
  context.out.document(record_json(telling, record));
}

}  // namespace

void add_setout(CommandTree& tree) {
  CLI::App& app = tree.command(
      "setout",
      {kAfterGraft, "plants set out into their bed, with the height of the union",
       "Of a finished batch, or of a sowing on its own roots. Plant no deeper than they stood:\n"
       "the union stays well above the soil, a hand's breadth is best, and is never earthed up.\n"
       "Without --count or --plants: all that are not set out yet.",
       "setout G3 --bed \"south bed\" --union 60mm\nsetout S4 --count 2"});
  const auto words = std::make_shared<Typed>();
  app.add_option("subject", words->subject, "the batch or sowing, as G3 or S4")->required();
  app.add_option("--bed", words->order.bed, "which bed; left out: the only one");
  app.add_option("--union", words->union_height, "its height above the soil, as 60mm");
  app.add_option("--count", words->order.count, "how many");
  app.add_option("--plants", words->order.plants, "or which, by their numbers")->delimiter(',');
  app.add_option("--note", words->note, "a word to remember");
  add_when(app, words->when);
  tree.action(app, [words](Context& context) { run_setout(*words, context); });
}

}  // namespace takehold::client
