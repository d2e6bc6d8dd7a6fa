// The command line of match: two files, one pairing, or several that share rootstocks.
#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "client/command/command_tree.hpp"
#include "client/command/match_book.hpp"
#include "client/command/match_left_over.hpp"
#include "client/command/opened_book.hpp"
#include "client/command/stem_list.hpp"
#include "client/command/text_file.hpp"
#include "client/terminal/numbers.hpp"

namespace takehold::client {

using nlohmann::json;

namespace {

struct Typed {
  std::vector<std::string> pairings;
  bool all = false, not_thinner = false;
  std::optional<std::string> rootstocks, scions, within, thinner_by;

  bool names_pairings() const { return all || !pairings.empty(); }
};

/// Which of the two forms was typed; anything else is wrong usage.
bool asks_for_files(const Typed& words) {
  const bool files = words.rootstocks && words.scions && words.within;
  const bool any_file = words.rootstocks || words.scions;
  const bool twice = words.all && !words.pairings.empty();
  if (!twice && words.names_pairings() != any_file && (words.names_pairings() || files)) {
    return files;
  }
  throw WrongUsage(
      {"usage", "match wants two files and a limit, or pairings, or --all", "", "match",
       "match --rootstocks FILE --scions FILE --within MM, or match P3, or match --all"});
}

sensors::Millimetres limit_of(const std::string& text, Units units, const char* option) {
  const auto limit = typed(parse_length(text, units, option));
  if (limit.um() < 0) throw WrongUsage({"usage", "a limit is not negative", "", option, ""});
  return limit;
}

Tolerance tolerance_of(const Typed& words, Units units, const Book* book) {
  Tolerance tolerance = words.within
                            ? Tolerance::absolute(limit_of(*words.within, units, "--within"))
                            : season_tolerance(*book);
  if (words.thinner_by) {
    return tolerance.with_rootstock_thinner_by_at_most(
        limit_of(*words.thinner_by, units, "--rootstock-thinner-by"));
  }
  if (!words.not_thinner) return tolerance;
  return tolerance.with_rootstock_thinner_by_at_most(sensors::Millimetres::mm(0));
}

StemSide side_from_file(const std::string& file) {
  return {whole_micrometres(read_stem_list(read_text_file(file), file)), {}, {}};
}

void match_files(const Typed& words, Context& context) {
  const Tolerance tolerance = tolerance_of(words, context.units, nullptr);
  StemMatch match;
  match.rootstocks = side_from_file(*words.rootstocks);
  match.scions = side_from_file(*words.scions);
  match.matching = match_stems(match.rootstocks.stems, match.scions.stems, tolerance);
  add_left_over_of_files(tolerance, match);
  if (context.out.is_json()) return context.out.document(to_json(match));
  context.out.text(match_text(match, context.out.style()));
  if (!match.left_over.empty()) {
    context.out.line("(What is left is taken to thicken as an average tomato at 22 °C: assumed.)");
  }
}

void note_age(const BookMatch& told, const std::string& about, Context& context) {
  const auto age = context.now - told.oldest.value_or(context.now);
  if (age <= kFreshMeasurement) return;
  context.out.note({"measured-long-ago", about,
                    fmt::format("measured {} h ago, and stems thicken daily: measure again",
                                std::chrono::floor<std::chrono::hours>(age).count())});
}

std::vector<Pairing> pairings_meant(const Typed& words, const Book& book) {
  if (words.all) {
    auto measured = measured_pairings(book);
    if (!measured.empty()) return measured;
    throw sensors::Refused({"not-measured", "no pairing has measured stems on both sides", "",
                            "--all", "takehold measure"});
  }
  std::vector<Pairing> pairings;
  for (const auto& name : words.pairings) {
    const Pairing pairing = find_pairing(book, name);
    const bool known = std::any_of(pairings.begin(), pairings.end(),
                                   [&](const Pairing& other) { return other.id == pairing.id; });
    if (!known) pairings.push_back(pairing);
  }
  return pairings;
}

void say_what_next(const StemMatch& match, Context& context) {
  std::string first, sheets;
  for (const MatchShare& share : match.shares) {
    if (share.count == 0) continue;
    if (first.empty()) first = share.pairing;
    sheets += " --graft " + share.pairing;
  }
  if (first.empty()) return;
  context.out.line("On paper: takehold worksheet" + sheets);
  context.out.line(
      fmt::format("Grafted: takehold graft {}, which asks for the pairs as written above", first));
}

void match_pairings(const Typed& words, Context& context) {
  const Book book = open_book(context, BookUse::reading);
  MatchQuestion question{pairings_meant(words, book), tolerance_of(words, context.units, &book)};
  question.share = words.all || question.pairings.size() > 1;
  const BookMatch told = match_in_book(book, question, context.now);
  const std::string about = question.share ? "" : question.pairings.front().id;
  note_age(told, about, context);
  context.out.text(match_text(told.match, context.out.style()));
  say_what_next(told.match, context);
  json document = to_json(told.match);
  document["pairing"] = about.empty() ? json() : json(about);
  document["measured_at"] = told.oldest ? json(sensors::to_string(*told.oldest)) : json();
  context.out.document(std::move(document));
}

}  // namespace

void add_match(CommandTree& tree) {
  CLI::App& app = tree.command(
      "match",
      {kGrafting, "which seedling goes onto which",
       "The most pairs that are equal enough, and among those the least apart in all; then the\n"
       "clips to lay out, and what to do with the stems left over. Several pairings, or --all,\n"
       "share the stems of common rootstocks: the heavier pairing first (its weight), those of\n"
       "one weight in turn, none more than it wants. Files hold one diameter a line, in\n"
       "millimetres. The default limit is the season's, 10 % of the mean (assumed: no limit was\n"
       "found in print); if unequal, the thicker stem below (common practice).",
       "match P1\nmatch P1 P2 --rootstock-not-thinner\nmatch --all\n"
       "match --rootstocks below.txt --scions above.txt --within 0.2"});
  const auto words = std::make_shared<Typed>();
  app.add_option("pairings", words->pairings, "pairings of the book, by their last measurement");
  app.add_flag("--all", words->all, "every pairing that has measured stems on both sides");
  app.add_option("--rootstocks", words->rootstocks, "a file of rootstock stems");
  app.add_option("--scions", words->scions, "a file of scion stems");
  app.add_option("--within", words->within, "how far apart two stems may be, as 0.2");
  app.add_flag("--rootstock-not-thinner", words->not_thinner,
               "no rootstock thinner than its scion");
  app.add_option("--rootstock-thinner-by", words->thinner_by,
                 "nor thinner than it by more than this, as 0.1");
  tree.action(app, [words](Context& context) {
    asks_for_files(*words) ? match_files(*words, context) : match_pairings(*words, context);
  });
}

}  // namespace takehold::client
