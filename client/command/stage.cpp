// stage: where a batch is on its healing plan, and the grower's hand on it.
#include <fmt/format.h>

#include <cmath>

#include "client/command/batch_view.hpp"
#include "client/command/chores.hpp"
#include "client/command/command_tree.hpp"
#include "client/command/daemon_line.hpp"
#include "client/command/stage.hpp"
#include "client/terminal/days.hpp"
#include "client/terminal/numbers.hpp"

namespace takehold::client {

BatchEvent change_stage(const Telling& telling, const std::string& typed_batch, StageChange change,
                        double hours) {
  const auto state = state_of(telling.book, find_numbered<Batch>(telling.book, typed_batch));
  const std::string& id = state.batch.id;
  if (state.finish) refuse("already-finished", "the batch is over", id);
  if (telling.at < state.batch.at) refuse("before-the-graft", "it was not grafted yet", "--at");
  if (change == StageChange::hold && !(hours > 0 && hours <= kLongestHold)) {
    refuse("bad-count", fmt::format("a hold lasts up to {:g} hours", kLongestHold), "--hold");
  }
  if (stage_of(state, telling.at).over && change != StageChange::back) {
    refuse("plan-over", "all stages are over", id, "takehold stage " + id + " --back");
  }
  BatchEvent event;
  telling.book.record(
      fmt::format("stage {} --{}", id, to_text(change)), telling.now, [&](Recorder& r) {
        event = {r.next_number(Kind::batch_event), id, change, telling.at, hours, telling.note};
        r.put(event);
      });
  return event;
}

namespace {

struct Typed {
  std::string batch, note;
  bool advance = false, back = false;
  std::optional<double> hold;
  TypedWhen when;
};

std::optional<StageChange> change_in(const Typed& words) {
  if (words.advance) return StageChange::advance;
  if (words.back) return StageChange::back;
  if (words.hold) return StageChange::hold;
  return std::nullopt;
}

void show_stage(const Book& book, const std::string& typed_batch, Context& context) {
  const auto state = state_of(book, find_numbered<Batch>(book, typed_batch));
  const auto regime = regime_of(state.batch);
  const auto stage = stage_of(state, context.now);
  const auto asks = daemon::asks_of(regime, stage);
  const auto moment = [&](sensors::Instant at) {
    return shown(at, book.time_zone(), context.out.style().dates);
  };
  context.out.line(fmt::format("{}, {} on {}: {} since {}{}", state.batch.id, state.batch.scion,
                               state.batch.rootstock, daemon::stage_name(regime, stage),
                               moment(stage.since),
                               stage.next ? ", until " + moment(*stage.next) : ""));
  context.out.line("asks for " + asks_text(asks, context.units));
  for (const auto& task : asks.tasks) context.out.line("to do: " + task);
  const Waits waits = waits_for({state, regime, stage}, book.all<Tending>());
  if (!waits.what.empty()) {
    context.out.line(fmt::format("before the next stage: {}{}", waits.what,
                                 waits.seen ? ", which was seen" : ""));
  }
  context.out.document(stage_json(state, context.now));
}

}  // namespace

void add_stage(CommandTree& tree) {
  CLI::App& app = tree.command(
      "stage", {kGrafting, "where a batch is on its healing plan; on, longer or back",
                "Stages pass by themselves. --advance begins the next one now, --hold keeps it so\n"
                "many hours longer in this one, --back gives it the one before again in full.",
                "stage G3\nstage G3 --hold 12\nstage G3 --advance"});
  const auto words = std::make_shared<Typed>();
  app.add_option("batch", words->batch, "the batch, as G3")->required();
  auto* advance = app.add_flag("--advance", words->advance, "the next stage begins");
  auto* hold = app.add_option("--hold", words->hold, "so many hours longer in this stage");
  auto* back = app.add_flag("--back", words->back, "the stage before, again in full");
  hold->excludes(advance)->excludes(back);
  back->excludes(advance);
  app.add_option("--note", words->note, "a word to remember");
  add_when(app, words->when);
  tree.action(app, [words](Context& context) {
    const auto change = change_in(*words);
    Book book = open_book(context, change ? BookUse::recording : BookUse::reading);
    if (change) {
      const Telling telling = telling_of(context, book, words->when, words->note);
      change_stage(telling, words->batch, *change, words->hold.value_or(0));
      tell_daemon(context, book);
    }
    show_stage(book, words->batch, context);
  });
}

}  // namespace takehold::client
