// lose: plants that died, and of what.
#include <fmt/format.h>

#include <algorithm>

#include "client/command/departure.hpp"
#include "client/command/standing.hpp"
#include "client/season/crop.hpp"

namespace takehold::client {
namespace {

/// How many stand in beds, and how many do not.
struct Standing {
  int in_bed = 0, elsewhere = 0;
};

bool all_set_out(const Book& book, const Departure& departure) {
  std::vector<int> planted;
  for (const SetOut& one : book.all<SetOut>()) {
    if (one.subject != departure.subject) continue;
    planted.insert(planted.end(), one.plants.begin(), one.plants.end());
  }
  return !departure.plants.empty() &&
         std::all_of(departure.plants.begin(), departure.plants.end(), [&](int plant) {
           return std::find(planted.begin(), planted.end(), plant) != planted.end();
         });
}

/// Nothing said: as the plants stand.
LateLoss late_by_place(const Book& book, const Departure& departure, const Standing& standing) {
  if (standing.in_bed == 0) return LateLoss::hardening;
  if (standing.elsewhere == 0 || all_set_out(book, departure)) return LateLoss::bed;
  refuse("which-plants",
         fmt::format("{} stand in beds and {} do not yet", standing.in_bed, standing.elsewhere),
         departure.subject, "say --stage hardening or --stage bed");
}

void check_room(const Departure& departure, const Standing& standing, LateLoss late) {
  const int there = late == LateLoss::bed ? standing.in_bed : standing.elsewhere;
  if (departure.count <= there) return;
  refuse("more-than-stand",
         fmt::format("{} to write off, {} stand {}", departure.count, there,
                     late == LateLoss::bed ? "in beds" : "outside beds"),
         departure.subject);
}

std::optional<LateLoss> late_of_batch(const Telling& telling, const BatchState& state,
                                      const Departure& departure, std::optional<LateLoss> typed) {
  if (!state.finish) {
    if (!typed) return std::nullopt;
    refuse("not-finished", "its takes are not counted yet: this is a graft that failed",
           state.batch.id, "leave out --stage, or first: takehold finish " + state.batch.id);
  }
  if (telling.at < state.finish->at) {
    refuse("already-counted", "its takes were counted after that: they hold this plant already",
           state.batch.id, "takehold undo takes the count back, if it was the last record");
  }
  const Standing standing{state.in_bed(), state.living() - state.in_bed()};
  const LateLoss late = typed ? *typed : late_by_place(telling.book, departure, standing);
  check_room(departure, standing, late);
  return late;
}

std::optional<LateLoss> late_of_sowing(const Telling& telling, const SowingState& state,
                                       const Departure& departure, std::optional<LateLoss> typed) {
  if (state.set_out == 0 && typed != LateLoss::bed) return std::nullopt;
  const Standing standing{state.in_bed(),
                          state.standing.value_or(state.sowing.seeds) - state.in_bed()};
  const LateLoss late = typed ? *typed : late_by_place(telling.book, departure, standing);
  check_room(departure, standing, late);
  return late == LateLoss::bed ? std::optional(late) : std::nullopt;
}

std::optional<LateLoss> late_of(const Telling& telling, const Departure& departure,
                                std::optional<LateLoss> typed) {
  if (const auto batch = telling.book.find<Batch>(departure.subject)) {
    return late_of_batch(telling, state_of(telling.book, *batch), departure, typed);
  }
  const auto sowing = telling.book.find<Sowing>(departure.subject);
  return late_of_sowing(telling, state_of(telling.book, *sowing), departure, typed);
}

std::string where_text(const std::optional<LateLoss>& late) {
  if (!late) return "";
  return *late == LateLoss::bed ? ", in its bed" : ", while hardening";
}

}  // namespace

Loss lose(const Telling& telling, const std::string& subject, const Gone& gone, Cause cause,
          std::optional<LateLoss> late) {
  const Departure departure = checked_departure(telling.book, subject, gone);
  const auto when = late_of(telling, departure, late);
  std::string words = fmt::format("lose {} --count {} --cause {}", departure.subject,
                                  departure.count, to_text(cause));
  if (when) words += fmt::format(" --stage {}", to_text(*when));
  return record_departure<Loss>(telling, departure, words, cause, when);
}

void add_lose(CommandTree& tree) {
  struct Typed : TypedDeparture {
    std::string cause = "unknown", stage;
  };
  CLI::App& app = tree.command(
      "lose",
      {kDaily, "plants that died: of a sowing or a batch",
       "Causes: wilted rotted slipped damped-off pest accident unknown. Spares thrown out\n"
       "are no losses: see cull. A graft that dies after its batch was finished had taken:\n"
       "it is kept apart, as lost while hardening or in its bed, and changes no take rate.",
       "lose S1 --count 2 --cause damped-off\nlose G3 --plants 3,5 --cause wilted\n"
       "lose G3 --count 1 --cause pest --stage bed"});
  const auto words = std::make_shared<Typed>();
  words->add_to(app);
  app.add_option("--cause", words->cause, "of what: " + choices<Cause>());
  app.add_option("--stage", words->stage,
                 "after the count: " + choices<LateLoss>() + "; left out: by where they stand");
  tree.action(app, [words](Context& context) {
    const auto cause = typed_word<Cause>(words->cause, "--cause", "unknown-cause");
    std::optional<LateLoss> late;
    if (!words->stage.empty()) late = typed_word<LateLoss>(words->stage, "--stage", "unknown-word");
    Book book = open_book(context, BookUse::recording);
    const Telling telling = telling_of(context, book, words->when, words->note);
    const Loss record = lose(telling, words->subject, words->gone(), cause, late);
    tell_departure(context, telling, record,
                   fmt::format("{}: {} lost{}, {}", record.subject, record.count,
                               where_text(record.late), to_text(record.cause)));
  });
}

}  // namespace takehold::client
