// measure: stems under the calliper, typed or piped in.
#include <fmt/format.h>

#include <algorithm>
#include <istream>
#include <iterator>

#include "client/command/command_tree.hpp"
#include "client/command/seedlings.hpp"
#include "client/command/standing.hpp"
#include "client/season/stem_text.hpp"
#include "client/terminal/numbers.hpp"

namespace takehold::client {

namespace {

std::vector<Stem> checked_stems(const Sowing& sowing, const std::string& text, Units units) {
  auto stems = parse_stems(text, units);
  if (!stems) throw sensors::Refused(stems.error());
  if (stems->empty()) refuse("bad-count", "no diameter was given", "STEMS", "measure S1 2.0 2.1");
  for (const Stem& stem : *stems) {
    if (stem.number <= sowing.seeds) continue;
    refuse("no-such-seedling",
           fmt::format("seedling {}, but {} sown", stem.number,
                       counted(sowing.seeds, "seed was", "seeds were")),
           fmt::format("{}-{}", sowing.id, stem.number));
  }
  return *std::move(stems);
}

std::string stems_text(const std::vector<Stem>& stems) {
  const auto by_diameter = [](const Stem& a, const Stem& b) { return a.diameter < b.diameter; };
  const auto [thinnest, thickest] = std::minmax_element(stems.begin(), stems.end(), by_diameter);
  double sum = 0;
  for (const Stem& stem : stems) sum += stem.diameter.mm();
  return fmt::format("{}, {} to {} mm, mean {} mm",
                     counted(static_cast<long long>(stems.size()), "stem", "stems"),
                     fixed(thinnest->diameter.mm(), 2), fixed(thickest->diameter.mm(), 2),
                     fixed(sum / static_cast<double>(stems.size()), 2));
}

std::string joined(const std::vector<std::string>& words) {
  std::string text;
  for (const auto& word : words) text += (text.empty() ? "" : " ") + word;
  return text;
}

}  // namespace

Measurement measure(const Telling& telling, const std::string& typed_sowing,
                    const std::string& stems, Units units) {
  const Sowing sowing = find_numbered<Sowing>(telling.book, typed_sowing);
  Measurement record;
  record.sowing = sowing.id;
  record.at = telling.at;
  record.stems = checked_stems(sowing, stems, units);
  const auto standing = state_of(telling.book, sowing).standing;
  record.full = !standing || static_cast<int>(record.stems.size()) >= *standing;
  record.note = telling.note;
  telling.book.record("measure " + sowing.id + " " + stems, telling.now, [&](Recorder& r) {
    record.id = r.next_number(Kind::measurement);
    r.put(record);
  });
  return record;
}

void add_measure(CommandTree& tree) {
  struct Typed {
    std::string sowing, note;
    std::vector<std::string> stems;
    TypedWhen when;
  };
  CLI::App& app = tree.command(
      "measure",
      {kDaily, "stem diameters below the seed leaves, in tray order",
       "Type them, or pipe them in one after the other. 5=2.3 is seedling 5; those after\n"
       "it count on from there. 2.0mm and 0.08in may be mixed.",
       "measure S1 2.0 2.1 5=2.3\nmeasure S1 < calliper.txt"});
  const auto words = std::make_shared<Typed>();
  app.add_option("sowing", words->sowing, "the sowing, as S1")->required();
  app.add_option("stems", words->stems, "diameters; left out: read from standard input");
  app.add_option("--note", words->note, "a word to remember");
  add_when(app, words->when);
  tree.action(app, [words](Context& context) {
    Book book = open_book(context, BookUse::recording);
    const Telling telling = telling_of(context, book, words->when, words->note);
    std::vector<std::string> stems = words->stems;
    if (stems.empty()) {
      stems.assign(std::istream_iterator<std::string>(context.in),
                   std::istream_iterator<std::string>());
    }
    const Measurement record = measure(telling, words->sowing, joined(stems), context.units);
    context.out.line(fmt::format("{}: {}{}", record.sowing, stems_text(record.stems),
                                 record.full ? "" : "; not all that stand"));
    context.out.document(record_json(telling, record));
  });
}

}  // namespace takehold::client
