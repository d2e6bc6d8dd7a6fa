#include "client/command/chores.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "client/terminal/numbers.hpp"

namespace takehold::client {

using daemon::Chore;
using sensors::Day;
using sensors::Instant;

int day_of_healing(const Book& book, const Batch& batch, Instant at) {
  const auto zone = book.time_zone();
  return int((zone.day_of(at) - zone.day_of(batch.at)).count());
}

Waits waits_for(const Tended& tended, const std::vector<Tending>& done) {
  Waits waits;
  if (tended.stage.over) return waits;
  waits.what = tended.present().advance_when;
  std::vector<const Tending*> looks;
  for (const Tending& one : done) {
    const bool counts = one.batch == tended.state.batch.id && one.wilted &&
                        one.at >= tended.stage.since &&
                        Chore{one.task, {}, false, {}, {}}.is_look();
    if (counts) looks.push_back(&one);
  }
  std::stable_sort(looks.begin(), looks.end(),
                   [](const Tending* a, const Tending* b) { return a->at < b->at; });
  int calm = 0;
  for (const Tending* look : looks) calm = *look->wilted == 0 ? calm + 1 : 0;
  waits.hangs = !looks.empty() && calm == 0;
  const auto wanted = daemon::looks_in_a_row(waits.what);
  if (!wanted) return waits;
  waits.looks = calm;
  waits.seen = calm >= *wanted;
  return waits;
}

Chores::Chores(const Book& book, Instant now)
    : book_(book), now_(now), today_(book.time_zone().day_of(now)), done_(book.all<Tending>()) {}

void Chores::add(const Tended& tended) {
  if (tended.stage.over) return;
  for (const std::string& task : tended.present().tasks) {
    const Chore chore = daemon::chore_of(task);
    if (chore.is_timed()) add(tended, chore);
  }
  ask_to_hold(tended);
}

bool Chores::was_done(const std::string& batch, const Chore& chore, Instant from,
                      std::optional<Instant> due_at) const {
  return std::any_of(done_.begin(), done_.end(), [&](const Tending& one) {
    if (one.batch != batch || one.task != chore.what) return false;
    return due_at ? one.due_at == due_at : one.at >= from;
  });
}

void Chores::add(const Tended& tended, const Chore& chore) {
  const Batch& batch = tended.state.batch;
  const auto zone = book_.time_zone();
  const int day = day_of_healing(book_, batch, now_);
  const Instant midnight = zone.at(today_, std::chrono::minutes(0));
  if (!chore.falls_on(day)) return;
  for (const auto time : chore.times) {
    const Instant due_at = zone.at(today_, time);
    const bool ours = due_at >= tended.stage.since && due_at < tended.stage.next;
    if (ours && !was_done(batch.id, chore, midnight, due_at))
      put({today_, time, chore, {}}, batch.id);
  }
  if (!chore.times.empty()) return;
  Day on = today_;
  if (!chore.daily) {
    on = std::max(zone.day_of(batch.at) + sensors::Days(*chore.from_day),
                  zone.day_of(tended.stage.since));
  }
  const Instant from = chore.daily ? midnight : tended.stage.since;
  if (!was_done(batch.id, chore, from, std::nullopt)) put({on, std::nullopt, chore, {}}, batch.id);
}

void Chores::put(Due due, const std::string& batch) {
  const auto same = std::find_if(due_.begin(), due_.end(), [&](const Due& other) {
    return other.on == due.on && other.time == due.time && other.chore.what == due.chore.what;
  });
  if (same == due_.end()) {
    due.batches.push_back(batch);
    due_.push_back(std::move(due));
  } else {
    same->batches.push_back(batch);
  }
}

/// While leaves hang, and on the day a stage would end without what it waits for.
void Chores::ask_to_hold(const Tended& tended) {
  const Waits waits = waits_for(tended, done_);
  const auto zone = book_.time_zone();
  const bool ends = tended.stage.next && zone.day_of(*tended.stage.next) <= today_;
  if (waits.what.empty() || waits.seen || (!ends && !waits.hangs)) return;
  const std::string& id = tended.state.batch.id;
  Task task;
  task.on = today_;
  task.what = "hold";
  task.about = id;
  task.text =
      fmt::format("hold {} in stage {}, which ends on {}: before the next it wants {}{}{}", id,
                  tended.present().name, zone.local_text(*tended.stage.next), waits.what,
                  waits.looks ? fmt::format(" (so far {})", *waits.looks) : "",
                  waits.hangs ? "; leaves hung at the last look: close again and mist" : "");
  task.count = 12;
  task.command = {"stage", id, "--hold", "12", "--note", "waits for: " + waits.what};
  task.count_word = 3;
  holds_.push_back(std::move(task));
}

std::vector<Task> Chores::tasks() const {
  auto due = due_;
  std::stable_sort(due.begin(), due.end(), [](const Due& a, const Due& b) {
    return std::pair(a.on, a.time) < std::pair(b.on, b.time);
  });
  std::vector<Task> all = holds_;
  for (const Due& one : due) {
    Task task;
    task.on = one.on;
    task.what = "tend";
    task.about = fmt::format("{}", fmt::join(one.batches, ", "));
    task.text = fmt::format("{}{}: {}", one.time ? daemon::clock_text(*one.time) + " " : "",
                            task.about, one.chore.what);
    task.command = {"tend", one.chore.what};
    task.command.insert(task.command.end(), one.batches.begin(), one.batches.end());
    if (one.time)
      task.command.insert(task.command.end(), {"--time", daemon::clock_text(*one.time)});
    if (one.chore.is_look()) {
      task.text += ", and count what hangs";
      task.command.insert(task.command.end(), {"--wilted", "0"});
      if (one.batches.size() == 1) task.count_word = task.command.size() - 1;
    }
    all.push_back(std::move(task));
  }
  return all;
}

}  // namespace takehold::client
