// compare: which of two pairings lives better, and how sure that is.
#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "client/command/command_tree.hpp"
#include "client/command/opened_book.hpp"
#include "client/command/takes.hpp"
#include "client/season/names.hpp"
#include "client/terminal/numbers.hpp"

namespace takehold::client {

namespace {

struct Typed {
  std::string a, b, from;
};

/// The place in `record` of the pairing that `typed_name` names or begins.
std::size_t pairing_place(const TakeRecord& record, const std::string& typed_name) {
  std::vector<std::string> names;
  for (const auto& pairing : record.pairings) names.push_back(pairing.pairing);
  const auto name = by_beginning(typed_name, names, "pairing");
  if (!name) throw sensors::Refused(name.error());
  return static_cast<std::size_t>(std::find(names.begin(), names.end(), *name) - names.begin());
}

std::string counts(const PairingTally& pairing) {
  return fmt::format("{}: {} of {}", pairing.pairing, pairing.tally.yes, pairing.tally.tried);
}

std::string comparison_text(const PairingTally& a, const PairingTally& b, const Comparison& found) {
  const double points = 100.0;
  std::string text = counts(a) + "\n" + counts(b) + "\n" + a.pairing +
                     " takes better: " + chance(found.probability_a_better) + "\n" +
                     fmt::format("difference, percentage points: {} to {} (19 times in 20)\n",
                                 fixed(found.difference.low * points, 0),
                                 fixed(found.difference.high * points, 0));
  if (found.more_needed_each) {
    text += fmt::format("to be sure, graft {} more of each\n", *found.more_needed_each);
  }
  return text;
}

nlohmann::json comparison_json(const PairingTally& a, const PairingTally& b,
                               const Comparison& found) {
  nlohmann::json document{
      {"a", a.pairing},
      {"b", b.pairing},
      {"probability_a_better", found.probability_a_better},
      {"fisher_p", found.fisher_p},
      {"difference", {{"low", found.difference.low}, {"high", found.difference.high}}},
      {"more_needed_each", nullptr}};
  if (found.more_needed_each) document["more_needed_each"] = *found.more_needed_each;
  return document;
}

/// P3 and cut names as the book's table of takes writes them.
void name_by_book(Typed& words, Context& context) {
  const Book book = open_book(context, BookUse::reading);
  for (std::string* name : {&words.a, &words.b}) *name = find_pairing(book, *name).names();
}

void compare(const TakeRecord& record, const Typed& words, Context& context) {
  const std::size_t a = pairing_place(record, words.a);
  const std::size_t b = pairing_place(record, words.b);
  const Comparison found = compare_takes(record.pairings, a, b);
  context.out.text(comparison_text(record.pairings[a], record.pairings[b], found));
  context.out.document(comparison_json(record.pairings[a], record.pairings[b], found));
}

}  // namespace

void add_compare(CommandTree& tree) {
  CLI::App& app = tree.command(
      "compare", {kLearning, "which of two pairings takes better, and how sure that is", "",
                  "compare P1 P4\ncompare North South --from results.csv"});
  const auto words = std::make_shared<Typed>();
  app.add_option("a", words->a, "a pairing")->required();
  app.add_option("b", words->b, "another")->required();
  app.add_option("--from", words->from, "a table of your own: pairing,grafted,taken");
  tree.action(app, [words](Context& context) {
    if (words->from.empty()) name_by_book(*words, context);
    compare(take_record(words->from, context), *words, context);
  });
}

}  // namespace takehold::client
