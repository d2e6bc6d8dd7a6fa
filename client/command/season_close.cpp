#include "client/command/season_close.hpp"

#include <fmt/format.h>

#include "client/command/standing.hpp"
#include "client/season/planned.hpp"

namespace takehold::client {

namespace {

std::string unfinished(const Book& book) {
  std::string names;
  for (const Batch& batch : book.all<Batch>()) {
    const BatchState state = state_of(book, batch);
    if (state.finish || state.living() <= 0) continue;
    names += (names.empty() ? "" : ", ") + batch.id;
  }
  return names;
}

/// Lines of the plan that were not done: they would be called late for ever.
void drop_plan(Recorder& recorder) {
  for (const PlannedSowing& line : recorder.book().all<PlannedSowing>()) {
    if (recorder.is_free(Kind::planned_sowing, line.id)) recorder.drop<PlannedSowing>(line.id);
  }
  for (const PlannedGraft& line : recorder.book().all<PlannedGraft>()) {
    recorder.drop<PlannedGraft>(line.id);
  }
}

}  // namespace

SeasonClose close_season(const Telling& telling) {
  const Season season = season_in(telling.book);
  if (const auto names = unfinished(telling.book); !names.empty()) {
    refuse("not-finished", "some batches are not finished: " + names, season.season,
           "say how many took: takehold finish " + names.substr(0, names.find(',')));
  }
  SeasonClose record;
  telling.book.record("season close", telling.now, [&](Recorder& recorder) {
    record = {recorder.next_number(Kind::season_close), season.season, telling.at, telling.note};
    recorder.put(record);
    drop_plan(recorder);
  });
  return record;
}

}  // namespace takehold::client
