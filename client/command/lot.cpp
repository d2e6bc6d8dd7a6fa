// `takehold lot`: packets and saved batches of seed, and their germination tests.
#include <charconv>

#include "client/command/lot_belief.hpp"
#include "client/command/noun_commands.hpp"

namespace takehold::client {
namespace {

Lot started(const Book& book, const std::string& label) {
  Lot lot;
  lot.label = typed(checked_label(label));
  if (book.find<Lot>(lot.label)) {
    throw sensors::Refused({"exists", "there is a lot of this label already", "", lot.label,
                            "change it with: takehold lot edit " + lot.label});
  }
  return lot;
}

void check(const Lot& lot) {
  if (lot.variety.empty()) {
    throw WrongUsage({"missing", "a lot is of some variety", "", "--variety", ""});
  }
  require_range(lot.seeds >= 0 && lot.seeds <= 10'000'000, "seeds", "0 or more");
  require_range(!lot.year || (*lot.year >= 1900 && *lot.year <= 2200), "year", "from 1900 to 2200");
  require_range(!lot.price || *lot.price >= 0.0, "price", "0 or more");
  require_range(!lot.packet_seeds || *lot.packet_seeds >= 1, "packet_seeds", "1 or more");
}

Table table(const Book& book, const std::vector<Lot>& lots) {
  Table rows({{"lot"},
              {"variety"},
              {"year", Align::right},
              {"on hand", Align::right},
              {"counted", Align::right},
              {"origin"},
              {"price", Align::decimal}});
  for (const Lot& lot : lots) {
    rows.add({lot.label, lot.variety, lot.year ? std::to_string(*lot.year) : "",
              std::to_string(book.on_hand(lot.label)), std::to_string(lot.seeds),
              lot.origin ? std::string(to_text(*lot.origin)) : "",
              lot.price ? fixed(*lot.price, 2) : ""});
  }
  return rows;
}

void enrich(const Book& book, const Lot& lot, nlohmann::json& json) {
  json["on_hand"] = book.find<Lot>(lot.label) ? book.on_hand(lot.label) : 0;
}

struct TestWords {
  std::string label, result;
  TypedWhen when;
};

/// "18/20"
std::pair<int, int> sprouted_of(const std::string& text) {
  const std::size_t slash = text.find('/');
  if (slash == std::string::npos) {
    throw WrongUsage({"bad-test", "a test is written sprouted/sown, as 18/20", "", text, ""});
  }
  const int sprouted = whole_from(text.substr(0, slash), "SPROUTED");
  const int sown = whole_from(text.substr(slash + 1), "SOWN");
  if (sown < 1 || sprouted < 0 || sprouted > sown || sown > 1'000'000) {
    throw sensors::Refused(
        {"out-of-range", "more cannot sprout than were sown, and some must be", "", text, ""});
  }
  return {sprouted, sown};
}

void test_lot(Context& context, const TestWords& words) {
  const auto [sprouted, sown] = sprouted_of(words.result);
  Book book = open_book(context, BookUse::reading);
  const Lot lot = find_typed<Lot>(book, words.label);
  const LotTest test{lot.label, day_of(words.when, book, context.now), sprouted, sown};
  if (const auto before = book.find<LotTest>(test.key()); before && *before != test) {
    throw sensors::Refused(
        {"exists", "this lot has a test of that day already",
         fmt::format("{}/{}", before->sprouted, before->sown), test.key(),
         "take it back with `takehold undo`, or name the day it was read: --on"});
  }
  book.record(fmt::format("lot test {} {}/{}", lot.label, sprouted, sown), context.now,
              [&](Recorder& recorder) { recorder.put(test); });
  const Share belief = viability_of(book, lot, context.now);
  context.out.line(fmt::format("{}: {} of {} sprouted on {}.", lot.label, sprouted, sown,
                               sensors::to_string(test.on)));
  context.out.line(
      fmt::format("Of its seed {:.0f} in 100 are alive, between {:.0f} and {:.0f} "
                  "9 times in 10.",
                  belief.mean * 100, belief.p05 * 100, belief.p95 * 100));
  context.out.document({{"lot", lot.label},
                        {"on", sensors::to_string(test.on)},
                        {"sprouted", sprouted},
                        {"sown", sown},
                        {"entered_at", sensors::to_string(context.now)},
                        {"mean", belief.mean},
                        {"p05", belief.p05},
                        {"p95", belief.p95}});
}

void add_test(CommandTree& tree, CLI::App& parent) {
  CLI::App& app = tree.command_under(
      parent, "test",
      {"", "a germination test: how many of how many sprouted",
       "Ten seeds between wet paper, warm, for a week tell much for little seed.",
       "lot test QP-24 18/20 --on 2027-01-10"});
  const auto words = std::make_shared<TestWords>();
  app.add_option("LABEL", words->label, "the lot, or the beginning of its label")->required();
  app.add_option("SPROUTED/SOWN", words->result, "as 18/20")->required();
  add_when(app, words->when);
  tree.action(app, [words](Context& context) { test_lot(context, *words); });
}

}  // namespace

void add_lot(CommandTree& tree) {
  CLI::App& app =
      add_noun<Lot>(tree,
                    {kPlanning, "packets and saved seed: add, list, show, edit, drop, test",
                     "A lot is one packet, or one saved batch. On hand is what was counted\n"
                     "less what was sown; another number of seeds later is a recount.",
                     "lot add QP-24 --variety \"Quarry Pink\" --year 2024 --seeds 30\n"
                     "lot test QP-24 18/20 --on 2027-01-10"},
                    {.key_help = "its label, or the beginning of it",
                     .fixed = {"label"},
                     .example_add = "QP-24 --variety \"Quarry Pink\" --year 2024 --seeds 30",
                     .example_key = "QP-24",
                     .started = started,
                     .found = find_typed<Lot>,
                     .check = check,
                     .table = table,
                     .enrich = enrich});
  add_test(tree, app);
}

}  // namespace takehold::client
