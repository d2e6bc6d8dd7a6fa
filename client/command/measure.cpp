// measure: stems under the calliper, typed or piped in.
#include <fmt/format.h>

#include <algorithm>
#include <istream>
#include <iterator>

#include "client/command/command_tree.hpp"
#include "client/command/measure_suggest.hpp"
#include "client/command/seedling_table.hpp"
#include "client/command/seedlings.hpp"
#include "client/command/session.hpp"
#include "client/command/standing.hpp"
#include "client/command/text_file.hpp"
#include "client/forecast/worth_measuring.hpp"
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

std::string stems_text(const std::vector<Stem>& stems, Units units) {
  const auto by_diameter = [](const Stem& a, const Stem& b) { return a.diameter < b.diameter; };
  const auto [thinnest, thickest] = std::minmax_element(stems.begin(), stems.end(), by_diameter);
  Millimetres sum = Millimetres::mm(0);
  for (const Stem& stem : stems) sum = sum + stem.diameter;
  return fmt::format("{}, {} to {}, mean {}",
                     counted(static_cast<long long>(stems.size()), "stem", "stems"),
                     bare(thinnest->diameter, units), shown(thickest->diameter, units),
                     shown(sum / static_cast<double>(stems.size()), units));
}

std::string joined(const std::vector<std::string>& words) {
  std::string text;
  for (const auto& word : words) text += (text.empty() ? "" : " ") + word;
  return text;
}

Measurement drafted(const Telling& telling, const std::string& typed_sowing,
                    const std::string& stems, Units units) {
  const Sowing sowing = find_numbered<Sowing>(telling.book, typed_sowing);
  Measurement record;
  record.sowing = sowing.id;
  record.at = telling.at;
  record.stems = checked_stems(sowing, stems, units);
  const auto standing = state_of(telling.book, sowing).standing;
  record.full = !standing || static_cast<int>(record.stems.size()) >= *standing;
  record.note = telling.note;
  return record;
}

void record_all(const Telling& telling, const std::string& words,
                std::vector<Measurement>& measurements) {
  telling.book.record(words, telling.now, [&](Recorder& r) {
    for (Measurement& measurement : measurements) {
      measurement.id = r.next_number(Kind::measurement);
      r.put(measurement);
    }
  });
}

}  // namespace

Measurement measure(const Telling& telling, const std::string& typed_sowing,
                    const std::string& stems, Units units) {
  std::vector<Measurement> one{drafted(telling, typed_sowing, stems, units)};
  record_all(telling, "measure " + one.front().sowing + " " + stems, one);
  return one.front();
}

std::vector<Measurement> measure_table(const Telling& telling, const StemTable& table,
                                       const std::string& words) {
  std::vector<Measurement> measurements;
  for (const StemTable::Group& group : table.groups) {
    try {
      measurements.push_back(drafted(telling, group.sowing, group.stems, Units::metric));
    } catch (const sensors::Refused& refused) {
      auto problem = refused.problem();
      problem.where = group.where;
      throw sensors::Refused(std::move(problem));
    }
  }
  record_all(telling, words, measurements);
  return measurements;
}

std::string measurement_text(const Measurement& record, Units units) {
  return fmt::format("{}: {}{}", record.sowing, stems_text(record.stems, units),
                     record.full ? "" : "; not all that stand");
}

namespace {

struct Typed {
  std::string sowing, file, note;
  std::vector<std::string> stems;
  bool suggest = false;
  int most = MeasuringWork{}.most;
  TypedWhen when;
};

/// Stems after the sowing, or what stands in the standard input.
void run_typed(const Typed& words, const Telling& telling, Context& context) {
  std::vector<std::string> stems = words.stems;
  if (stems.empty()) {
    stems.assign(std::istream_iterator<std::string>(context.in),
                 std::istream_iterator<std::string>());
  }
  const Measurement record = measure(telling, words.sowing, joined(stems), context.units);
  context.out.line(measurement_text(record, context.units));
  context.out.document(record_json(telling, record));
}

void run_table(const Typed& words, const Telling& telling, Context& context) {
  const bool piped = words.file.empty();
  const std::string text = piped ? std::string(std::istreambuf_iterator<char>(context.in), {})
                                 : read_text_file(words.file);
  const std::string name = piped ? "standard input" : words.file;
  nlohmann::json list = nlohmann::json::array();
  for (const auto& record :
       measure_table(telling, stem_table(text, name), "measure --from " + name)) {
    context.out.line(measurement_text(record, context.units));
    list.push_back(record_json(telling, record));
  }
  context.out.document({{"measurements", std::move(list)}});
}

void run_measure(const Typed& words, Context& context) {
  if (words.suggest) {
    if (words.sowing.empty() && words.file.empty()) return suggest_measuring(context, words.most);
    throw WrongUsage(
        {"usage", "--suggest looks at all sowings", "", "--suggest", "measure --suggest"});
  }
  if (!words.file.empty() && !words.sowing.empty()) {
    throw WrongUsage({"usage", "measure wants a sowing or --from FILE, not both", "", "measure",
                      "measure --from stems.csv"});
  }
  Book book = open_book(context, BookUse::recording);
  const Telling telling = telling_of(context, book, words.when, words.note);
  const bool asks = is_dialogue(context) && words.file.empty() && words.stems.empty();
  if (asks) {
    measure_session(context, telling,
                    words.sowing.empty() ? std::nullopt : std::optional(words.sowing));
  } else if (words.sowing.empty()) {
    run_table(words, telling, context);
  } else {
    run_typed(words, telling, context);
  }
}

}  // namespace

void add_measure(CommandTree& tree) {
  CLI::App& app = tree.command(
      "measure",
      {kDaily, "stem diameters below the seed leaves, in tray order",
       "Without stems it asks for them, sowing after sowing: Enter accepts what it offers, u\n"
       "takes back the last. A calliper that types works as well. Or type them, or pipe them in;\n"
       "5=2.3 is seedling 5, those after it count on. --from reads a table with the columns\n"
       "sowing, diameter_mm and, if you like, number. --suggest says how many stems of which\n"
       "sowing would tell most of the graft day today, and records nothing.",
       "measure\nmeasure --suggest\nmeasure S1 2.0 2.1 5=2.3\nmeasure S1 < calliper.txt\nmeasure "
       "--from stems.csv"});
  const auto words = std::make_shared<Typed>();
  app.add_option("sowing", words->sowing, "the sowing, as S1");
  app.add_option("stems", words->stems, "diameters; left out: asked for, or read from the input");
  app.add_option("--from", words->file, "a table of stems (CSV)");
  app.add_flag("--suggest", words->suggest, "say what is worth measuring today");
  app.add_option("--most", words->most, "with --suggest: stems in all (30)")
      ->check(CLI::Range(1, 1000));
  app.add_option("--note", words->note, "a word to remember");
  add_when(app, words->when);
  tree.action(app, [words](Context& context) { run_measure(*words, context); });
}

}  // namespace takehold::client
