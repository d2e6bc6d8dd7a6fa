// compare: which of two pairings lives better, and how sure that is.
#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "client/command/command_tree.hpp"
#include "client/command/opened_book.hpp"
#include "client/command/takes.hpp"
#include "client/season/names.hpp"
#include "client/terminal/interval_bar.hpp"
#include "client/terminal/numbers.hpp"

namespace takehold::client {

namespace {

constexpr int kBar = 41;        // columns: five points each
constexpr double kRare = 0.05;  // the level at which a difference is called shown

struct Typed {
  std::string a, b;
  TakeSource source;
};

/// The place in `record` of the pairing that `typed_name` names or begins.
std::size_t pairing_place(const TakeRecord& record, const std::string& typed_name) {
  std::vector<std::string> names;
  for (const auto& pairing : record.pairings) names.push_back(pairing.pairing);
  const auto name = by_beginning(typed_name, names, to_text(record.by));
  if (!name) throw sensors::Refused(name.error());
  return static_cast<std::size_t>(std::find(names.begin(), names.end(), *name) - names.begin());
}

std::string counts(const PairingTally& pairing) {
  return fmt::format("{}: {} of {}", pairing.pairing, pairing.tally.yes, pairing.tally.tried);
}

std::string sureness(const Comparison& found) {
  if (found.fisher_p < kRare) {
    return fmt::format(
        "Were there no difference, counts this far apart would come {} times in 1000.\n",
        fixed(found.fisher_p * 1000, 0));
  }
  return fmt::format(
      "Were there no difference, counts this far apart would still come {}: not shown yet.\n",
      chance(found.fisher_p));
}

/// Nothing where one was not tried: then there is no difference to mark.
std::string difference_line(const PairingTally& a, const PairingTally& b, const Interval& between,
                            const TerminalStyle& style) {
  if (a.tally.tried == 0 || b.tally.tried == 0) return "";
  const double seen = static_cast<double>(a.tally.yes) / a.tally.tried -
                      static_cast<double>(b.tally.yes) / b.tally.tried;
  return "-100 " + difference_bar(between.low, seen, between.high, 1, kBar, style) + " 100\n";
}

std::string comparison_text(const PairingTally& a, const PairingTally& b, const Comparison& found,
                            const TerminalStyle& style) {
  const double points = 100.0;
  std::string text = counts(a) + "\n" + counts(b) + "\n" + a.pairing +
                     " takes better: " + chance(found.probability_a_better) + "\n" +
                     fmt::format("difference, percentage points: {} to {} (19 times in 20)\n",
                                 fixed(found.difference.low * points, 0),
                                 fixed(found.difference.high * points, 0)) +
                     difference_line(a, b, found.difference, style);
  if (a.tally.tried > 0 && b.tally.tried > 0) text += sureness(found);
  if (!found.more_needed_each) return text;
  if (*found.more_needed_each == 0) return text + "As many as were grafted suffice to show it.\n";
  return text + fmt::format("To show a difference as large as this, graft {} more of each.\n",
                            *found.more_needed_each);
}

nlohmann::json comparison_json(const PairingTally& a, const PairingTally& b,
                               const Comparison& found) {
  nlohmann::json document{
      {"a", a.pairing},
      {"b", b.pairing},
      {"probability_a_better", found.probability_a_better},
      {"fisher_p", found.fisher_p},
      {"fisher_p_a_better", fisher_greater(a.tally, b.tally)},
      {"difference", {{"low", found.difference.low}, {"high", found.difference.high}}},
      {"more_needed_each", nullptr}};
  if (found.more_needed_each) document["more_needed_each"] = *found.more_needed_each;
  return document;
}

/// P3 and cut names as the book's table of takes writes them.
void name_by_book(Typed& words, Context& context) {
  if (!words.source.file.empty() || words.source.by != to_text(GroupBy::pairing)) return;
  const Book book = open_book(context, BookUse::reading);
  for (std::string* name : {&words.a, &words.b}) *name = find_pairing(book, *name).names();
}

void compare(const TakeRecord& record, const Typed& words, Context& context) {
  const std::size_t a = pairing_place(record, words.a);
  const std::size_t b = pairing_place(record, words.b);
  const Comparison found = compare_takes(record.pairings, a, b);
  context.out.text(
      comparison_text(record.pairings[a], record.pairings[b], found, context.out.style()));
  context.out.document(comparison_json(record.pairings[a], record.pairings[b], found));
}

}  // namespace

void add_compare(CommandTree& tree) {
  CLI::App& app = tree.command(
      "compare", {kLearning, "which of two pairings takes better, and how sure that is",
                  "Or two rootstocks, methods, months ...: whatever takes can be gathered by.",
                  "compare P1 P4\ncompare splice cleft --by method\n"
                  "compare North South --from results.csv"});
  const auto words = std::make_shared<Typed>();
  app.add_option("a", words->a, "a pairing")->required();
  app.add_option("b", words->b, "another")->required();
  add_take_source(app, words->source);
  tree.action(app, [words](Context& context) {
    name_by_book(*words, context);
    compare(take_record(words->source, context), *words, context);
  });
}

}  // namespace takehold::client
