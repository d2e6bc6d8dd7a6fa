// remark: scores of taste, diseases, roots above the union and shoots below it.
#include <fmt/format.h>

#include "client/command/command_tree.hpp"
#include "client/command/departure.hpp"
#include "client/command/grown.hpp"
#include "client/terminal/numbers.hpp"

namespace takehold::client {
namespace {

double checked_score(const std::string& text) {
  const auto number = typed(parse_typed(text, "VALUE"));
  if (!number.suffix.empty() || number.value < 0 || number.value > kBestScore) {
    refuse("out-of-range", fmt::format("a score runs from 0 to {:g}", kBestScore), "VALUE",
           "as 7 or 7.5");
  }
  return number.value;
}

void check_subject(const GrownPlants& plants, const RemarkOrder& order) {
  if (is_of_union(order.about) && !plants.grafted) {
    refuse("no-union", "plants on their own roots have no union", plants.subject);
  }
  check_plant_numbers(plants.subject, plants.numbers, order.plants);
  const int named = static_cast<int>(order.plants.size());
  if (order.count && *order.count < 1) refuse("bad-count", "at least one", "--count");
  if (order.count && named > 0 && named != *order.count) {
    refuse("bad-count", fmt::format("{} plants named, but a count of {}", named, *order.count),
           "--count");
  }
  if (order.count && *order.count > plants.numbers) {
    refuse("more-than-stand", fmt::format("{} has {} plants", plants.subject, plants.numbers),
           plants.subject);
  }
}

/// Score, disease or words, as it is about; what is found at the union needs none.
void take_value(const RemarkOrder& order, Remark& record) {
  if (is_scored(order.about)) {
    if (order.value.empty()) {
      refuse("bad-number", "which score? from 0 to 10", "VALUE", "remark S4 taste 8");
    }
    record.score = checked_score(order.value);
  } else if (order.about == RemarkAbout::disease || is_of_union(order.about)) {
    record.what = order.value;
  } else if (record.note.empty()) {
    record.note = order.value;
  } else {
    record.note = order.value + "; " + record.note;
  }
  if (order.about == RemarkAbout::disease && record.what.empty()) {
    refuse("no-words", "which disease, or what it looks like?", "VALUE",
           "remark G3 disease \"leaf mould\" --plants 2");
  }
}

std::string remark_text(const Remark& record) {
  std::string text = record.subject;
  if (!record.plants.empty()) {
    text += fmt::format(", plant{} {}", record.plants.size() == 1 ? "" : "s",
                        fmt::join(record.plants, ", "));
  } else if (record.count) {
    text += ", " + counted(*record.count, "plant", "plants");
  }
  text += ": " + std::string(to_text(record.about));
  if (record.score) text += fmt::format(" {:g} of {:g}", *record.score, kBestScore);
  if (!record.what.empty()) text += " " + record.what;
  return record.note.empty() ? text : text + " (" + record.note + ")";
}

}  // namespace

Remark remark(const Telling& telling, const std::string& subject, const RemarkOrder& order) {
  const GrownPlants plants = grown_plants(telling.book, subject);
  check_subject(plants, order);
  Remark record;
  record.subject = plants.subject;
  record.at = telling.at;
  record.about = order.about;
  record.plants = order.plants;
  record.count = order.count;
  if (!order.plants.empty()) record.count = static_cast<int>(order.plants.size());
  record.note = telling.note;
  take_value(order, record);
  telling.book.record(fmt::format("remark {} {}{}", record.subject, to_text(record.about),
                                  order.value.empty() ? "" : " " + order.value),
                      telling.now, [&](Recorder& r) {
                        record.id = r.next_number(Kind::remark);
                        r.put(record);
                      });
  return record;
}

namespace {

struct Typed {
  std::string subject, about, note;
  RemarkOrder order;
  TypedWhen when;
};

const char* advice(const Remark& record) {
  switch (record.about) {
    case RemarkAbout::scion_roots:
      return "cut the roots off above the soil and draw the soil away from the union";
    case RemarkAbout::sucker:
      return "break the shoot off at its base: it is the rootstock's and takes the scion's light";
    default:
      return nullptr;
  }
}

void run_remark(Typed words, Context& context) {
  words.order.about = typed_word<RemarkAbout>(words.about, "about", "unknown-word");
  Book book = open_book(context, BookUse::recording);
  const Telling telling = telling_of(context, book, words.when, words.note);
  const Remark record = remark(telling, words.subject, words.order);
  context.out.line(remark_text(record));
  if (const char* what = advice(record)) context.out.line(what);
  context.out.document(record_json(telling, record));
}

}  // namespace

void add_remark(CommandTree& tree) {
  CLI::App& app = tree.command(
      "remark",
      {kAfterGraft, "a score, a disease, roots above the union, a shoot below it",
       "taste, looks and vigour are scored from 0 to 10, by your own measure: `ranking` sets\n"
       "varieties in order by them. disease wants its name; scion-roots are roots from above\n"
       "the union, a sucker a shoot from below it; other is any words.",
       "remark S4 taste 8\nremark G3 taste 7.5 --plants 2,3\n"
       "remark G3 disease \"leaf mould\" --plants 5\nremark G3 scion-roots --count 2"});
  const auto words = std::make_shared<Typed>();
  app.add_option("subject", words->subject, "the batch or sowing, as G3 or S4")->required();
  app.add_option("about", words->about, choices<RemarkAbout>())->required();
  app.add_option("value", words->order.value, "the score, the disease, the words");
  app.add_option("--count", words->order.count, "of how many plants");
  app.add_option("--plants", words->order.plants, "or of which, by their numbers")->delimiter(',');
  app.add_option("--note", words->note, "a word to remember");
  add_when(app, words->when);
  tree.action(app, [words](Context& context) { run_remark(*words, context); });
}

}  // namespace takehold::client
