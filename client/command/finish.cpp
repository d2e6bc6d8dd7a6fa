// finish: a batch's takes counted.
#include <fmt/format.h>

#include "client/command/command_tree.hpp"
#include "client/command/daemon_line.hpp"
#include "client/command/exposure.hpp"
#include "client/command/outcomes.hpp"
#include "client/command/standing.hpp"
#include "client/terminal/numbers.hpp"

namespace takehold::client {

namespace {

/// Days by the calendar, for the day of grafting is day 0 whatever the hour.
bool is_early(const BatchState& state, const Telling& telling) {
  const auto& zone = telling.book.time_zone();
  return zone.day_of(telling.at) - zone.day_of(state.batch.at) < kFirstScoringDay;
}

void check_order(const BatchState& state, const FinishOrder& order, bool early) {
  const std::string& id = state.batch.id;
  if (state.finish) refuse("already-finished", "its takes are counted already", id);
  if (early && !order.early) {
    refuse("too-early",
           fmt::format("a graft is not judged before day {}", kFirstScoringDay.count()), id,
           "wait, or say --early: then it stays out of the take rates");
  }
  const int taken = order.taken.value_or(state.living());
  if (taken < 0 || order.given < 0) refuse("bad-count", "a count is not negative", id);
  if (taken > state.living()) {
    refuse("more-than-live", fmt::format("{} taken, but {} live", taken, state.living()), id);
  }
  if (order.given > taken) {
    refuse("more-than-live", fmt::format("{} given away of {} taken", order.given, taken), id);
  }
}

}  // namespace

Finish finish(const Telling& telling, const std::string& typed_batch, const FinishOrder& order) {
  const auto state = state_of(telling.book, find_numbered<Batch>(telling.book, typed_batch));
  const bool early = is_early(state, telling);
  check_order(state, order, early);
  const int taken = order.taken.value_or(state.living());
  Finish record;
  telling.book.record(fmt::format("finish {} --taken {}", state.batch.id, taken), telling.now,
                      [&](Recorder& r) {
                        record = {r.next_number(Kind::finish),
                                  state.batch.id,
                                  telling.at,
                                  taken,
                                  order.given,
                                  early,
                                  telling.note};
                        if (const int missing = state.living() - taken; missing > 0) {
                          r.put(Loss{r.next_number(Kind::loss),
                                     state.batch.id,
                                     telling.at,
                                     missing,
                                     {},
                                     Cause::unknown,
                                     ""});
                        }
                        r.put(record);
                      });
  return record;
}

namespace {

struct Typed {
  std::string batch, note;
  FinishOrder order;
  TypedWhen when;
};

void run_finish(const Typed& words, Context& context) {
  Book book = open_book(context, BookUse::recording);
  const Telling telling = telling_of(context, book, words.when, words.note);
  const Finish record = finish(telling, words.batch, words.order);
  const auto state = state_of(book, find_numbered<Batch>(book, record.batch));
  context.out.line(fmt::format("{}: {} of {} took, {} lost", record.batch, record.taken,
                               counted(state.batch.count(), "graft", "grafts"), state.lost));
  nlohmann::json document = record_json(telling, record);
  document["grafted"] = state.batch.count();
  document["lost"] = state.lost;
  document["pending"] = state.pending();
  tell_daemon(context, book);
  document["exposure"] = exposure_json(book, record.batch);
  context.out.document(std::move(document));
}

}  // namespace

void add_finish(CommandTree& tree) {
  CLI::App& app = tree.command(
      "finish", {kGrafting, "a batch is over: how many grafts took",
                 "From day 6 on. Those that neither took nor were lost before count as lost.",
                 "finish G3\nfinish G3 --taken 5 --given 1"});
  const auto words = std::make_shared<Typed>();
  app.add_option("batch", words->batch, "the batch, as G3")->required();
  app.add_option("--taken", words->order.taken, "how many took; left out: all that live");
  app.add_option("--given", words->order.given, "of these, given away");
  app.add_flag("--early", words->order.early, "before day 6; stays out of the rates");
  app.add_option("--note", words->note, "a word to remember");
  add_when(app, words->when);
  tree.action(app, [words](Context& context) { run_finish(*words, context); });
}

}  // namespace takehold::client
