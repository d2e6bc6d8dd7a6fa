#include "client/command/sow.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "client/command/command_tree.hpp"
#include "client/terminal/numbers.hpp"

namespace takehold::client {

namespace {

/// The bench that sowings start on; none in a book without benches.
std::string first_bench(const Book& book) {
  const auto benches = book.all<Bench>();
  const auto first =
      std::min_element(benches.begin(), benches.end(),
                       [](const Bench& a, const Bench& b) { return a.position < b.position; });
  return first == benches.end() ? "" : first->name;
}

void check_seed(const Book& book, const Lot& lot, int seeds) {
  if (seeds < 1) refuse("bad-count", "at least one seed is sown", "SEEDS");
  const int left = book.on_hand(lot.label);
  if (seeds <= left) return;
  refuse("sown-more-than-there-is",
         fmt::format("{} seeds of {}, but {} are left by the book", seeds, lot.label, left),
         "SEEDS", fmt::format("if you counted more: takehold lot edit {} --seeds N", lot.label));
}

int cells_for(const Book& book, int seeds) {
  const auto season = book.find<Season>("season");
  const int a_cell = season ? std::max(1, season->seeds_per_cell) : 1;
  return (seeds + a_cell - 1) / a_cell;
}

/// Nobody types a line's id: a lot that the plan sows within these days is taken as planned.
constexpr sensors::Days kNearPlan{7};

bool is_sown(const Book& book, const PlannedSowing& line) {
  const auto sown = book.all<Sowing>();
  return std::any_of(sown.begin(), sown.end(),
                     [&](const Sowing& sowing) { return sowing.planned == line.id; });
}

/// The open line of this lot, for what it is sown for if that was typed, that is nearest in days.
std::optional<PlannedSowing> line_near(const Book& book, const SowOrder& order, sensors::Day day) {
  std::optional<PlannedSowing> nearest;
  sensors::Days distance = kNearPlan;
  for (const PlannedSowing& line : book.all<PlannedSowing>()) {
    const auto away = std::chrono::abs(line.sow_on - day);
    const bool fits = line.lot == order.lot && (!order.side || order.side == line.side);
    if (!fits || away > distance || (nearest && away == distance) || is_sown(book, line)) continue;
    nearest = line;
    distance = away;
  }
  return nearest;
}

std::optional<PlannedSowing> planned_line(const Book& book, const SowOrder& order,
                                          sensors::Day day) {
  if (!order.planned) return order.pairings.empty() ? line_near(book, order, day) : std::nullopt;
  auto line = find_numbered<PlannedSowing>(book, *order.planned);
  if (line.lot == order.lot || book.find<Lot>(order.lot) == std::nullopt) return line;
  refuse("another-lot", fmt::format("{} is planned with lot {}", line.id, line.lot), "--line");
}

/// What the line says and nobody typed.
void fulfil(Sowing& sowing, const PlannedSowing& line) {
  sowing.planned = line.id;
  if (!sowing.side) sowing.side = line.side;
  if (sowing.pairings.empty()) sowing.pairings = line.pairings;
}

Sowing put_sowing(Recorder& recorder, const Telling& telling, const SowOrder& order) {
  const Book& book = recorder.book();
  const Lot lot = find_typed<Lot>(book, order.lot);
  check_seed(book, lot, order.seeds);
  Sowing sowing;
  sowing.id = recorder.next_number(Kind::sowing);
  sowing.lot = lot.label;
  sowing.at = telling.at;
  sowing.seeds = order.seeds;
  sowing.cells = order.cells.value_or(cells_for(book, order.seeds));
  sowing.bench = order.bench ? find_typed<Bench>(book, *order.bench).name : first_bench(book);
  sowing.side = order.side;
  for (const auto& pairing : order.pairings) {
    sowing.pairings.push_back(find_pairing(book, pairing).id);
  }
  sowing.planned = order.planned;
  SowOrder meant = order;
  meant.lot = lot.label;
  const auto day = book.time_zone().day_of(telling.at);
  if (const auto line = planned_line(book, meant, day)) fulfil(sowing, *line);
  sowing.note = telling.note;
  recorder.put(sowing);
  return sowing;
}

SowOrder order_of(const PlannedSowing& line) {
  return {line.lot, line.seeds, line.cells, std::nullopt, line.side, line.pairings, line.id};
}

}  // namespace

Sowing sow(const Telling& telling, const SowOrder& order) {
  Sowing sowing;
  telling.book.record(fmt::format("sow {} {}", order.lot, order.seeds), telling.now,
                      [&](Recorder& r) { sowing = put_sowing(r, telling, order); });
  return sowing;
}

std::vector<PlannedSowing> planned_and_not_sown(const Book& book, sensors::Day day) {
  std::vector<PlannedSowing> lines;
  for (const PlannedSowing& line : book.all<PlannedSowing>()) {
    if (line.sow_on == day && !is_sown(book, line)) lines.push_back(line);
  }
  return lines;
}

std::vector<Sowing> sow_planned(const Telling& telling, std::span<const PlannedSowing> lines) {
  std::vector<Sowing> sowings;
  telling.book.record("sow --planned", telling.now, [&](Recorder& r) {
    for (const PlannedSowing& line : lines) {
      sowings.push_back(put_sowing(r, telling, order_of(line)));
    }
  });
  return sowings;
}

namespace {

struct Typed {
  SowOrder order;
  std::string side;
  bool planned = false;
  TypedWhen when;
  std::string note;
};

std::string sowing_text(const Sowing& sowing) {
  return fmt::format("{}: {}, {} in {}{}{}", sowing.id, sowing.lot,
                     counted(sowing.seeds, "seed", "seeds"), counted(sowing.cells, "cell", "cells"),
                     sowing.bench.empty() ? "" : ", on the " + sowing.bench,
                     sowing.planned ? ", as planned" : "");
}

void run_planned(const Telling& telling, Context& context) {
  const auto day = telling.book.time_zone().day_of(telling.at);
  const auto lines = planned_and_not_sown(telling.book, day);
  if (lines.empty()) {
    refuse("nothing-planned", fmt::format("the plan sows nothing on {}", sensors::to_string(day)),
           "--planned", "see takehold calendar");
  }
  nlohmann::json list = nlohmann::json::array();
  for (const Sowing& sowing : sow_planned(telling, lines)) {
    context.out.line(sowing_text(sowing));
    list.push_back(record_json(telling, sowing));
  }
  context.out.document({{"sowings", std::move(list)}});
}

void run_sow(Typed words, Context& context) {
  if (words.planned != words.order.lot.empty()) {
    throw WrongUsage({"usage", "sow wants a lot and a number of seeds, or --planned", "", "sow",
                      "sow QP-24 12"});
  }
  Book book = open_book(context, BookUse::recording);
  const Telling telling = telling_of(context, book, words.when, words.note);
  if (words.planned) return run_planned(telling, context);
  if (!words.side.empty()) words.order.side = from_text<Side>(words.side);
  const Sowing sowing = sow(telling, words.order);
  context.out.line(sowing_text(sowing));
  context.out.document(record_json(telling, sowing));
}

}  // namespace

void add_sow(CommandTree& tree) {
  CLI::App& app = tree.command(
      "sow",
      {kDaily, "a lot into trays; --planned: everything the plan sows that day",
       "Seed that was sown is no longer on hand. What the accepted plan sows of that lot within a\n"
       "week is thereby done, unless --for says what else it is for.",
       "sow QP-24 12\nsow IF-26 18 --as rootstock --for P1,P2\nsow --planned"});
  const auto words = std::make_shared<Typed>();
  app.add_option("lot,--lot", words->order.lot, "the lot's label");
  app.add_option("seeds,--seeds,--count", words->order.seeds, "how many seeds");
  app.add_option("--cells", words->order.cells, "in how many cells");
  app.add_option("--bench", words->order.bench, "where the trays stand");
  app.add_option("--as", words->side, "what for")
      ->check(CLI::IsMember({"scion", "rootstock", "own root"}));
  app.add_option("--for", words->order.pairings, "for which pairings")->delimiter(',');
  app.add_flag("--planned", words->planned, "everything the accepted plan sows that day");
  app.add_option("--line", words->order.planned,
                 "the accepted plan's line it fulfils, as today says");
  app.add_option("--note", words->note, "a word to remember");
  add_when(app, words->when);
  tree.action(app, [words](Context& context) { run_sow(*words, context); });
}

}  // namespace takehold::client
