#include "client/command/match.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <utility>

#include "client/command/command_tree.hpp"
#include "client/command/match_book.hpp"
#include "client/command/opened_book.hpp"
#include "client/command/stem_list.hpp"
#include "client/command/text_file.hpp"
#include "client/terminal/numbers.hpp"
#include "client/terminal/table.hpp"
#include "client/terminal/text_width.hpp"

namespace takehold::client {

using nlohmann::json;

namespace {

double in_mm(Micrometres length) {
  return static_cast<double>(length) / 1000.0;
}

json pair_json(const StemMatch& match, const StemPair& pair) {
  json row{{"rootstock", pair.rootstock},
           {"scion", pair.scion},
           {"rootstock_mm", in_mm(match.rootstocks.stems[pair.rootstock])},
           {"scion_mm", in_mm(match.scions.stems[pair.scion])},
           {"mismatch_mm", in_mm(pair.mismatch)},
           {"clip_mm", in_mm(clip_size(match.rootstocks.stems[pair.rootstock]))}};
  if (!match.rootstocks.names.empty()) {
    row["rootstock_seedling"] = match.rootstocks.names[pair.rootstock];
  }
  if (!match.scions.names.empty()) row["scion_seedling"] = match.scions.names[pair.scion];
  return row;
}

/// A stem as the grower knows it: its name, or its place in the file counted from 1.
std::string stem_name(const StemSide& side, std::size_t index) {
  return side.names.empty() ? fmt::format("{}", index + 1) : side.names[index];
}

struct Typed {
  std::optional<std::string> pairing, rootstocks, scions, within;
};

/// Which of the two forms was typed; anything else is wrong usage.
bool asks_for_files(const Typed& words) {
  const bool files = words.rootstocks && words.scions && words.within;
  const bool any_file = words.rootstocks || words.scions;
  if (words.pairing.has_value() != any_file && (words.pairing || files)) return files;
  throw WrongUsage({"usage", "match wants two files and a limit, or a pairing", "", "match",
                    "match --rootstocks FILE --scions FILE --within MM, or match P3"});
}

Tolerance limit_of(const std::string& within, Units units) {
  const auto limit = typed(parse_length(within, units, "--within"));
  if (limit.um() < 0) throw WrongUsage({"usage", "a limit is not negative", "", "--within", ""});
  return Tolerance::absolute(limit);
}

StemSide side_from_file(const std::string& file) {
  return {whole_micrometres(read_stem_list(read_text_file(file), file)), {}};
}

void match_files(const Typed& words, Context& context) {
  const auto match = match_sides(side_from_file(*words.rootstocks), side_from_file(*words.scions),
                                 limit_of(*words.within, context.units));
  context.out.text(match_text(match, context.out.style()));
  context.out.document(to_json(match));
}

void note_age(const MeasuredPairing& measured, const std::string& pairing, Context& context) {
  const auto age = context.now - measured.oldest.value_or(context.now);
  if (age <= kFreshMeasurement) return;
  context.out.note({"measured-long-ago", pairing,
                    fmt::format("measured {} h ago, and stems thicken daily: measure again",
                                std::chrono::floor<std::chrono::hours>(age).count())});
}

void match_pairing(const Typed& words, Context& context) {
  const Book book = open_book(context, BookUse::reading);
  const Pairing pairing = find_pairing(book, *words.pairing);
  const MeasuredPairing measured = measured_stems(book, pairing);
  const Tolerance limit =
      words.within ? limit_of(*words.within, context.units) : season_tolerance(book);
  const auto match = match_sides(measured.rootstocks, measured.scions, limit);
  note_age(measured, pairing.id, context);
  context.out.text(match_text(match, context.out.style()));
  json document = to_json(match);
  document["pairing"] = pairing.id;
  document["measured_at"] = measured.oldest ? json(sensors::to_string(*measured.oldest)) : json();
  context.out.document(std::move(document));
}

}  // namespace

std::vector<Micrometres> whole_micrometres(std::span<const sensors::Millimetres> stems) {
  std::vector<Micrometres> whole;
  whole.reserve(stems.size());
  for (const auto& stem : stems) whole.push_back(stem.um());
  return whole;
}

StemMatch match_sides(StemSide rootstocks, StemSide scions, const Tolerance& tolerance) {
  Matching matching = match_stems(rootstocks.stems, scions.stems, tolerance);
  return {std::move(rootstocks), std::move(scions), std::move(matching)};
}

json to_json(const StemMatch& match) {
  json pairs = json::array();
  for (const auto& pair : match.matching.pairs) pairs.push_back(pair_json(match, pair));
  return {{"pairs", std::move(pairs)},
          {"count", match.matching.count()},
          {"mismatch_total_mm", in_mm(match.matching.mismatch_total)},
          {"left_over",
           {{"rootstocks", match.matching.rootstocks_left_over},
            {"scions", match.matching.scions_left_over}}}};
}

std::string match_text(const StemMatch& match, const TerminalStyle& style) {
  const std::string unit(unit_of_length(style.units));
  const auto length = [&](Micrometres um, int decimals = 2) {
    return bare(sensors::Millimetres::um(um), style.units, decimals);
  };
  Table table({{"rootstock"},
               {unit, Align::decimal},
               {"scion"},
               {unit, Align::decimal},
               {"apart, " + unit, Align::decimal},
               {"clip, " + unit, Align::decimal}});
  for (const auto& pair : match.matching.pairs) {
    const Micrometres below = match.rootstocks.stems[pair.rootstock];
    table.add({stem_name(match.rootstocks, pair.rootstock), length(below),
               stem_name(match.scions, pair.scion), length(match.scions.stems[pair.scion]),
               length(pair.mismatch), length(clip_size(below), 1)});
  }
  const auto& matching = match.matching;
  const auto left_over = [&](const char* what, const StemSide& side,
                             const std::vector<std::size_t>& stems) {
    std::string text;
    for (const auto index : stems) {
      text += fmt::format("{}{} ({})", text.empty() ? "" : ", ", stem_name(side, index),
                          length(side.stems[index]));
    }
    return wrapped(fmt::format("left over, {}: {}", what, text.empty() ? "none" : text),
                   style.width) +
           "\n";
  };
  return table.text(style) +
         fmt::format("{} pairs, {} {} apart in all\n", matching.count(),
                     length(matching.mismatch_total), unit) +
         left_over("rootstocks", match.rootstocks, matching.rootstocks_left_over) +
         left_over("scions", match.scions, matching.scions_left_over);
}

void add_match(CommandTree& tree) {
  CLI::App& app = tree.command(
      "match", {kGrafting, "which seedling goes onto which",
                "The most pairs that are equal enough, and among those the least apart in all.\n"
                "Files hold one diameter a line, in millimetres.",
                "match P1\nmatch --rootstocks below.txt --scions above.txt --within 0.2"});
  const auto words = std::make_shared<Typed>();
  app.add_option("pairing", words->pairing, "a pairing of the book, by its last measurement");
  app.add_option("--rootstocks", words->rootstocks, "a file of rootstock stems");
  app.add_option("--scions", words->scions, "a file of scion stems");
  app.add_option("--within", words->within, "how far apart two stems may be, as 0.2");
  tree.action(app, [words](Context& context) {
    asks_for_files(*words) ? match_files(*words, context) : match_pairing(*words, context);
  });
}

}  // namespace takehold::client
