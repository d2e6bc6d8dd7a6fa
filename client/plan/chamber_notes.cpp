#include "client/plan/chamber_notes.hpp"

#include <fmt/format.h>

namespace takehold::client {
namespace {

std::string listed(const std::vector<GraftMove>& moves) {
  std::string text;
  for (const GraftMove& move : moves) {
    text += fmt::format("{}{} on {}", text.empty() ? "" : "; ", move.pairing,
                        sensors::to_string(move.to));
    if (!move.is_free) text += " (not one of your free days)";
    if (move.ready_on) {
      text +=
          fmt::format(" (ready_on = {} in its [[pairing]])", sensors::to_string(*move.ready_on));
    }
  }
  return text;
}

}  // namespace

std::vector<PlanNote> notes_on_chamber(const ChamberPlan& chamber) {
  std::vector<PlanNote> notes;
  if (!chamber.moved.empty()) {
    notes.push_back({"graft-day-moved", "",
                     "not all can be grafted on the day their stems match best, so within their "
                     "windows: " +
                         listed(chamber.moved) +
                         ". The chances above are those of each pairing's best day"});
  }
  for (const ChamberCollision& one : chamber.collisions) notes.push_back({one.code, "", one.text});
  if (!chamber.resolve.empty()) {
    notes.push_back({"chamber-moves", "",
                     (chamber.is_resolvable ? "it fits when grafted so: "
                                            : "nearer to what fits, though not all of it: ") +
                         listed(chamber.resolve) + ". Then plan again"});
  }
  if (!chamber.is_resolvable) {
    notes.push_back({"chamber-too-small", "",
                     "no days were found on which all of it fits: a second chamber, more hands, "
                     "another healing plan or fewer plants would help"});
  }
  if (!chamber.is_exact) {
    notes.push_back({"chamber-nearly", "",
                     "so many batches compete for days that the best of a long search was taken, "
                     "not of a complete one"});
  }
  return notes;
}

}  // namespace takehold::client
