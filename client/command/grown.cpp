#include "client/command/grown.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "client/command/standing.hpp"
#include "client/season/names.hpp"
#include "client/season/place.hpp"

namespace takehold::client {

GrownPlants grown_plants(const Book& book, const std::string& typed_subject) {
  if (kind_of_key(typed_subject) == Kind::batch) {
    const auto state = state_of(book, find_numbered<Batch>(book, typed_subject));
    if (!state.finish) {
      refuse("not-finished", "nobody has said yet how many of its grafts took", state.batch.id,
             "first: takehold finish " + state.batch.id);
    }
    return {state.batch.id,      state.batch.scion, true,
            state.batch.count(), state.living(),    state.in_bed()};
  }
  const auto state = state_of(book, find_numbered<Sowing>(book, typed_subject));
  return {state.sowing.id,
          state.variety,
          false,
          state.sowing.seeds,
          state.standing.value_or(state.sowing.seeds),
          state.in_bed()};
}

std::string typed_bed(const Book& book, const std::string& typed) {
  std::vector<std::string> names;
  for (const Bed& bed : book.all<Bed>()) names.push_back(bed.name);
  if (typed.empty()) return names.size() == 1 ? names.front() : "";
  const auto found = by_beginning(typed, names, "bed");
  if (found) return *found;
  auto problem = found.error();
  if (problem.code == "not-there" && problem.hint.empty()) {
    problem.hint = "beds stand in the sheet as [[bed]]: takehold season write, then season load";
  }
  throw sensors::Refused(std::move(problem));
}

}  // namespace takehold::client
