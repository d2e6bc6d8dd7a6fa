#include "client/command/tasks.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "client/command/batch_view.hpp"
#include "client/command/calendar_lines.hpp"
#include "client/command/chores.hpp"
#include "client/command/grafts_made.hpp"
#include "client/command/opened_book.hpp"
#include "client/command/outcomes.hpp"
#include "client/command/standing.hpp"
#include "client/season/place.hpp"
#include "client/season/planned.hpp"
#include "client/terminal/numbers.hpp"

namespace takehold::client {
namespace {

using sensors::Day;
using sensors::Days;

// When to look (common practice): seedlings come up from the fifth day on and are counted every
// third day for three weeks; stems are worth measuring from the twelfth day on, every fourth.
constexpr Days kFirstCount{5}, kCountEvery{3}, kLastCount{21};
constexpr Days kFirstMeasure{12}, kMeasureEvery{4}, kLastMeasure{45};
// Stems left over after a session are too thick some days later (assumed: 0.1 mm a day).
constexpr Days kRestOfSession{5};
// Pricked out from kPrickAfter on; later than this the graft is near and nobody does it any more.
constexpr Days kLastPricking{10};
// A batch's fate is scored between day 6 (kFirstScoringDay) and day 14 after the graft (published).
constexpr Days kScore{14};

Day day_of(const Book& book, sensors::Instant at) {
  return book.time_zone().day_of(at);
}

Task sow_task(const PlannedSowing& line, const Book& book) {
  Task task;
  task.on = line.sow_on;
  task.what = "sow";
  task.about = line.lot;
  task.count = line.seeds;
  const auto lot = book.find<Lot>(line.lot);
  task.text = fmt::format("sow {} of {}{} in {}, as {}", counted(line.seeds, "seed", "seeds"),
                          line.lot, lot ? " (" + lot->variety + ")" : "",
                          counted(line.cells, "cell", "cells"), to_text(line.side));
  task.command = {"sow", line.lot, std::to_string(line.seeds), "--line", line.id};
  task.count_word = 2;
  return task;
}

std::vector<Task> sow_tasks(const Book& book) {
  const auto sowings = book.all<Sowing>();
  std::vector<Task> tasks;
  for (const PlannedSowing& line : book.all<PlannedSowing>()) {
    const bool done = std::any_of(sowings.begin(), sowings.end(),
                                  [&](const Sowing& sowing) { return sowing.planned == line.id; });
    if (!done) tasks.push_back(sow_task(line, book));
  }
  return tasks;
}

/// `made` of the line's grafts stand in batches already.
Task graft_task(const Book& book, const PlannedGraft& line, Day on, int made) {
  const auto pairing = book.find<Pairing>(line.pairing);
  Task task;
  task.on = on;
  task.what = "graft";
  task.about = line.pairing;
  task.count = line.grafts - made;
  const std::string most =
      made > 0 ? fmt::format("{} more ({} of {} made)", *task.count, made, line.grafts)
               : counted(*task.count, "pair", "pairs");
  task.text = fmt::format("graft {}{}, up to {}; which onto which: takehold match {}", line.pairing,
                          pairing ? " " + pairing->names() : "", most, line.pairing);
  task.command = {"graft", line.pairing, "--count", std::to_string(*task.count)};
  task.count_word = 3;
  return task;
}

std::vector<Task> graft_tasks(const Book& book) {
  std::vector<Task> tasks;
  for (const auto& record : book.records<PlannedGraft>()) {
    if (!batches_since(book, record).empty()) continue;
    tasks.push_back(graft_task(book, record.noun, record.noun.graft_on, 0));
  }
  return tasks;
}

/// What a partial session left to be grafted, while its stems may still match.
void add_rest(const Book& book, Day today, std::vector<Task>& tasks) {
  for (const auto& record : book.records<PlannedGraft>()) {
    int made = 0;
    std::optional<Day> last;
    for (const Batch& batch : batches_since(book, record)) {
      if (batch.repairs.empty()) made += batch.count();
      last = std::max(last.value_or(day_of(book, batch.at)), day_of(book, batch.at));
    }
    if (!last || made >= record.noun.grafts || today > *last + kRestOfSession) continue;
    tasks.push_back(graft_task(book, record.noun, today, made));
  }
}

/// The newest of T about this sowing, by the day it was done.
template <class T>
std::optional<Day> last_day(const Book& book, const std::string& sowing) {
  std::optional<Day> last;
  for (const T& record : book.all<T>()) {
    if (record.sowing != sowing) continue;
    const Day day = day_of(book, record.at);
    last = last ? std::max(*last, day) : day;
  }
  return last;
}

void add_count(const Book& book, const SowingState& state, Day today, std::vector<Task>& tasks) {
  const Sowing& sowing = state.sowing;
  const Day sown = day_of(book, sowing.at);
  const auto last = last_day<Emerged>(book, sowing.id);
  const Day due = last ? *last + kCountEvery : sown + kFirstCount;
  const bool all_up = state.standing.value_or(0) >= sowing.seeds;
  if (due > today || today > sown + kLastCount || all_up || state.grafted > 0) return;
  Task task;
  task.on = due;
  task.what = "count";
  task.about = sowing.id;
  task.text =
      fmt::format("count the seedlings of {} ({}, {} sown on {}{})", sowing.id, state.variety,
                  counted(sowing.seeds, "seed", "seeds"), sensors::to_string(sown),
                  state.standing ? fmt::format(", {} standing", *state.standing) : "");
  task.command = {"emerged", sowing.id, "N"};
  task.count_word = 2;
  task.wanted = "how many stand";
  tasks.push_back(std::move(task));
}

/// Seedlings that share their cells, until some were pricked out or thinned.
void add_pricking(const Book& book, const SowingState& state, Day today, std::vector<Task>& tasks) {
  const Sowing& sowing = state.sowing;
  const Day due = day_of(book, sowing.at) + kPrickAfter;
  const bool is_done = last_day<Pricking>(book, sowing.id) || last_day<Thinning>(book, sowing.id);
  const int standing = state.standing.value_or(0);
  const bool is_shared = sowing.seeds > sowing.cells && standing > sowing.cells;
  if (due > today || today > due + kLastPricking || is_done || !is_shared || state.grafted > 0) {
    return;
  }
  Task task;
  task.on = due;
  task.what = "prick";
  task.about = sowing.id;
  task.count = standing - sowing.cells;
  task.text = fmt::format(
      "prick out {} ({}): {} stand in {}, one plant a cell when the first true leaf shows; or "
      "thin: takehold thin {}",
      sowing.id, state.variety, standing, counted(sowing.cells, "cell", "cells"), sowing.id);
  task.command = {"prick", sowing.id, std::to_string(*task.count)};
  task.count_word = 2;
  tasks.push_back(std::move(task));
}

void add_measure(const Book& book, const SowingState& state, Day today, std::vector<Task>& tasks) {
  const Sowing& sowing = state.sowing;
  const Day sown = day_of(book, sowing.at);
  const auto last = last_day<Measurement>(book, sowing.id);
  const Day due = last ? *last + kMeasureEvery : sown + kFirstMeasure;
  const bool for_grafting = sowing.side && *sowing.side != Side::own_root;
  const bool any = state.standing.value_or(0) > 0 && state.grafted == 0;
  if (due > today || today > sown + kLastMeasure || !for_grafting || !any) return;
  Task task;
  task.on = due;
  task.what = "measure";
  task.about = sowing.id;
  task.count = state.standing;
  task.text = fmt::format("measure the stems of {} ({}, {} standing)", sowing.id, state.variety,
                          *state.standing);
  task.command = {"measure", sowing.id};
  task.wanted = "the diameters, as: takehold measure " + sowing.id + " 2.0 2.1 2.3";
  tasks.push_back(std::move(task));
}

Task batch_task(const char* what, const Batch& batch, Day on, std::string text,
                std::vector<std::string> command) {
  Task task;
  task.on = on;
  task.what = what;
  task.about = batch.id;
  task.text = std::move(text);
  task.command = std::move(command);
  return task;
}

std::string first_bench(const Book& book) {
  auto benches = book.all<Bench>();
  const auto first =
      std::min_element(benches.begin(), benches.end(),
                       [](const Bench& a, const Bench& b) { return a.position < b.position; });
  return first == benches.end() ? "bench" : first->name;
}

/// Where it is and what holds for the whole stage; a move; and its tasks to tick off.
void add_stage(const Book& book, const BatchState& state, sensors::Instant now, Chores& chores,
               std::vector<Task>& tasks) {
  const Batch& batch = state.batch;
  const daemon::Regime regime = regime_of(batch);
  const daemon::StageNow stage = stage_of(state, now);
  const std::string name = batch.id + " " + batch.scion + "/" + batch.rootstock;
  const bool on_bench = stage.over || regime.stages[stage.index].where == daemon::StagePlace::bench;
  if (on_bench && state.place == kChamber && !state.finish) {
    const std::string bench = first_bench(book);
    tasks.push_back(batch_task("move", batch, day_of(book, stage.since),
                               fmt::format("move {} out of the chamber, to the {}", name, bench),
                               {"move", batch.id, "--to", bench}));
  }
  if (stage.over) return;
  chores.add({state, regime, stage});
  std::string todo;
  for (const std::string& task : regime.stages[stage.index].tasks) {
    if (!daemon::chore_of(task).is_timed()) todo += "; " + task;
  }
  tasks.push_back(batch_task("stage", batch, day_of(book, now),
                             fmt::format("{} is {}{}", name, stage_name(regime, stage), todo),
                             {"stage", batch.id}));
}

/// Asked for from day 6 on, late after day 14; nobody has told how many took.
void add_finish(const Book& book, const BatchState& state, sensors::Instant now,
                std::vector<Task>& tasks) {
  const Day grafted = day_of(book, state.batch.at);
  const Day today = day_of(book, now);
  if (today < grafted + kFirstScoringDay) return;
  const Day last = grafted + kScore;
  const std::string grafts = counted(state.batch.count(), "graft", "grafts");
  Task task = batch_task(
      "finish", state.batch, std::min(today, last),
      fmt::format("say how many of {}'s {} took: it is day {}, scored from day {} to {}{}",
                  state.batch.id, grafts, (today - grafted).count(), kFirstScoringDay.count(),
                  kScore.count(),
                  today < last ? "" : "; then set them out with the union above the soil"),
      {"finish", state.batch.id, "--taken", std::to_string(state.living())});
  task.count = state.living();
  task.count_word = 3;
  tasks.push_back(std::move(task));
}

void add_batches(const Book& book, sensors::Instant now, std::vector<Task>& tasks) {
  Chores chores(book, now);
  for (const Batch& batch : book.all<Batch>()) {
    const BatchState state = state_of(book, batch);
    if (state.living() <= 0) continue;
    add_stage(book, state, now, chores, tasks);
    if (!state.finish) add_finish(book, state, now, tasks);
  }
  for (Task& task : chores.tasks()) tasks.push_back(std::move(task));
}

void add_waiting(const Book& book, Day today, std::vector<Task>& tasks) {
  const auto waiting = book.waiting();
  if (waiting.empty()) return;
  Task task;
  task.on = today;
  task.what = "send";
  task.about = waiting.front().label;
  task.count = static_cast<int>(waiting.size());
  const bool parked =
      std::any_of(waiting.begin(), waiting.end(), [](const Notice& n) { return n.parked; });
  task.text = fmt::format(
      "{} for the chamber's daemon {}{}", counted(*task.count, "notice", "notices"),
      waiting.size() == 1 ? "waits" : "wait",
      parked ? ": it refused " + waiting.front().label + ": " + waiting.front().trouble : "");
  task.command = {"send"};
  tasks.push_back(std::move(task));
}

void in_order(std::vector<Task>& tasks) {
  std::stable_sort(tasks.begin(), tasks.end(),
                   [](const Task& a, const Task& b) { return a.on < b.on; });
  for (std::size_t i = 0; i < tasks.size(); ++i) tasks[i].line = static_cast<int>(i) + 1;
}

}  // namespace

nlohmann::json to_json(const Task& task) {
  nlohmann::json json{{"line", task.line},
                      {"on", sensors::to_string(task.on)},
                      {"what", task.what},
                      {"about", task.about},
                      {"text", task.text},
                      {"count", nullptr},
                      {"command", command_text(task)}};
  if (task.count) json["count"] = *task.count;
  return json;
}

std::string command_text(const Task& task) {
  std::string text = "takehold";
  for (const std::string& word : task.command) {
    const bool plain = !word.empty() && word.find_first_of(" \"'$`\\") == std::string::npos;
    text += plain ? " " + word : " \"" + word + "\"";
  }
  return text;
}

std::vector<Task> planned_tasks(const Book& book) {
  std::vector<Task> tasks = sow_tasks(book);
  for (Task& task : graft_tasks(book)) tasks.push_back(std::move(task));
  in_order(tasks);
  return tasks;
}

std::vector<Task> tasks_at(const Book& book, sensors::Instant now) {
  const Day today = day_of(book, now);
  std::vector<Task> tasks = planned_tasks(book);
  std::erase_if(tasks, [&](const Task& task) { return task.on > today; });
  for (const Sowing& sowing : book.all<Sowing>()) {
    if (today > day_of(book, sowing.at) + kLastMeasure) continue;
    const SowingState state = state_of(book, sowing);
    add_count(book, state, today, tasks);
    add_pricking(book, state, today, tasks);
    add_measure(book, state, today, tasks);
  }
  add_rest(book, today, tasks);
  add_batches(book, now, tasks);
  add_waiting(book, today, tasks);
  in_order(tasks);
  return tasks;
}

}  // namespace takehold::client
