// tend: ticks off a task of the stage that batches are in.
#include <fmt/format.h>

#include <algorithm>

#include "client/command/chores.hpp"
#include "client/command/command_tree.hpp"
#include "client/command/recording.hpp"
#include "client/terminal/numbers.hpp"

namespace takehold::client {
namespace {

struct Typed {
  std::string task, time, note;
  std::vector<std::string> batches;
  std::optional<int> wilted;
  TypedWhen when;
};

/// The chore of the stage that is typed, or begins so; "look" alone is the look at the leaves.
daemon::Chore typed_chore(const Tended& tended, const std::string& typed) {
  std::vector<daemon::Chore> found;
  std::string known;
  for (const auto& task : tended.present().tasks) {
    auto chore = daemon::chore_of(task);
    known += (known.empty() ? "" : "; ") + chore.what;
    const bool exact = chore.what == typed || (typed == "look" && chore.is_look());
    if (exact) return chore;
    if (!typed.empty() && chore.what.starts_with(typed)) found.push_back(std::move(chore));
  }
  const std::string& id = tended.state.batch.id;
  if (found.size() == 1) return found.front();
  if (found.empty()) {
    refuse("unknown-task", "\"" + typed + "\" is no task of its stage", id, "there are: " + known);
  }
  refuse("ambiguous", "\"" + typed + "\" begins more than one task of its stage", id,
         "there are: " + known);
}

/// The typed hour, or the nearest that the chore has on that day.
std::optional<sensors::Instant> due_of(const Telling& telling, const daemon::Chore& chore,
                                       const std::string& typed_time) {
  if (chore.times.empty()) return std::nullopt;
  const auto zone = telling.book.time_zone();
  const auto day = zone.day_of(telling.at);
  if (!typed_time.empty()) {
    const auto time = daemon::clock_time(typed_time);
    const bool known =
        time && std::find(chore.times.begin(), chore.times.end(), *time) != chore.times.end();
    if (!known) refuse("unknown-time", "the task has no such hour", "--time");
    return zone.at(day, *time);
  }
  const auto distance = [&](std::chrono::minutes time) {
    return std::chrono::abs(zone.at(day, time) - telling.at);
  };
  return zone.at(day, *std::min_element(chore.times.begin(), chore.times.end(),
                                        [&](auto a, auto b) { return distance(a) < distance(b); }));
}

Tending tending_of(const Telling& telling, const Typed& words, const std::string& typed_batch) {
  const auto state = state_of(telling.book, find_numbered<Batch>(telling.book, typed_batch));
  const std::string& id = state.batch.id;
  if (telling.at < state.batch.at) refuse("before-the-graft", "it was not grafted yet", "--at");
  const auto regime = regime_of(state.batch);
  const Tended tended{state, regime, stage_of(state, telling.at)};
  if (tended.stage.over) refuse("plan-over", "all stages are over: nothing is left to tend", id);
  const auto chore = typed_chore(tended, words.task);
  if (words.wilted && !chore.is_look()) {
    refuse("bad-count", "only at a look is it counted what hangs", "--wilted");
  }
  if (words.wilted && (*words.wilted < 0 || *words.wilted > state.living())) {
    refuse("more-than-stand",
           fmt::format("{} has {}", id, counted(state.living(), "graft", "grafts")), "--wilted");
  }
  return {"",           id,          telling.at, chore.what, due_of(telling, chore, words.time),
          words.wilted, telling.note};
}

std::string waiting_text(const Telling& telling, const Tending& record) {
  const auto state = state_of(telling.book, find_numbered<Batch>(telling.book, record.batch));
  const auto regime = regime_of(state.batch);
  const auto waits =
      waits_for({state, regime, stage_of(state, telling.at)}, telling.book.all<Tending>());
  if (!record.wilted || waits.what.empty()) return "";
  if (waits.hangs) {
    return "close again and mist; to wait with the next stage: takehold stage " + record.batch +
           " --hold 12";
  }
  return "the stage waits for " + waits.what + (waits.seen ? ": seen" : ": not yet");
}

void run_tend(const Typed& words, Context& context) {
  Book book = open_book(context, BookUse::recording);
  const Telling telling = telling_of(context, book, words.when, words.note);
  std::vector<Tending> records;
  for (const auto& batch : words.batches) records.push_back(tending_of(telling, words, batch));
  book.record(fmt::format("tend \"{}\" {}", records.front().task, fmt::join(words.batches, " ")),
              telling.now, [&](Recorder& r) {
                for (auto& record : records) {
                  record.id = r.next_number(Kind::tending);
                  r.put(record);
                }
              });
  auto list = nlohmann::json::array();
  for (const auto& record : records) {
    std::string text = record.batch + ": " + record.task + ", done";
    if (record.wilted)
      text += fmt::format(", {}", *record.wilted == 0
                                      ? "none hangs"
                                      : counted(*record.wilted, "graft hangs", "grafts hang"));
    context.out.line(text);
    if (const auto more = waiting_text(telling, record); !more.empty()) context.out.line(more);
    list.push_back(record_json(telling, record));
  }
  context.out.document({{"tended", std::move(list)}});
}

}  // namespace

void add_tend(CommandTree& tree) {
  CLI::App& app = tree.command(
      "tend",
      {kGrafting, "ticks off a task of the healing stage: a look, misting, water, opening, clips",
       "`today` lists the tasks of the stage each batch is in, at their hours; `done` ticks one\n"
       "off, or this does, for one batch or several. A task may be cut short. At a look, say how\n"
       "many grafts hang: a stage may wait until none did at two looks in a row.",
       "tend look G1 --wilted 0\ntend look G1 --wilted 2 --note \"closed again\"\n"
       "tend refill G1 G2 --at 2027-04-12T08:10:00Z"});
  const auto words = std::make_shared<Typed>();
  app.add_option("task", words->task, "the task, or how it begins")->required();
  app.add_option("batches", words->batches, "the batches, as G1 G2")->required();
  app.add_option("--wilted", words->wilted, "at a look: grafts of each batch whose leaves hang");
  app.add_option("--time", words->time, "which of its hours, as 8:00; left out: the nearest");
  app.add_option("--note", words->note, "a word to remember");
  add_when(app, words->when);
  tree.action(app, [words](Context& context) { run_tend(*words, context); });
}

}  // namespace takehold::client
