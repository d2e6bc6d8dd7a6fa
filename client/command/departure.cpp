#include "client/command/departure.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "client/command/standing.hpp"

namespace takehold::client {

namespace {

struct Subject {
  std::string key;
  int standing;
  int numbers;  ///< plants are numbered 1 to this
};

Subject subject_of(const Book& book, const std::string& typed_subject) {
  if (kind_of_key(typed_subject) == Kind::batch) {
    const auto state = state_of(book, find_numbered<Batch>(book, typed_subject));
    return {state.batch.id, state.living(), state.batch.count()};
  }
  const auto state = state_of(book, find_numbered<Sowing>(book, typed_subject));
  return {state.sowing.id, state.standing.value_or(state.sowing.seeds), state.sowing.seeds};
}

}  // namespace

void check_plant_numbers(const std::string& subject, int highest, std::vector<int> plants) {
  std::sort(plants.begin(), plants.end());
  const auto twice = std::adjacent_find(plants.begin(), plants.end());
  if (twice != plants.end()) {
    refuse("twice", fmt::format("plant {} is named twice", *twice), "--plants");
  }
  if (!plants.empty() && (plants.front() < 1 || plants.back() > highest)) {
    refuse("no-such-graft", fmt::format("the plants of {} are numbered 1 to {}", subject, highest),
           "--plants");
  }
}

Departure checked_departure(const Book& book, const std::string& typed_subject, const Gone& gone) {
  const Subject subject = subject_of(book, typed_subject);
  check_plant_numbers(subject.key, subject.numbers, gone.plants);
  const int named = static_cast<int>(gone.plants.size());
  const int count = gone.count.value_or(named);
  if (count < 1) refuse("bad-count", "say how many, or which: at least one", "--count");
  if (named != 0 && named != count) {
    refuse("bad-count", fmt::format("{} plants named, but a count of {}", named, count), "--count");
  }
  if (count > subject.standing) {
    refuse("more-than-stand",
           fmt::format("{} to write off, {} stand by the book", count, subject.standing),
           subject.key);
  }
  return {subject.key, count, gone.plants};
}

void TypedDeparture::add_to(CLI::App& app) {
  app.add_option("subject", subject, "the sowing or batch, as S1 or G3")->required();
  app.add_option("--count", count, "how many");
  app.add_option("--plants", plants, "or which, by their numbers")->delimiter(',');
  app.add_option("--note", note, "a word to remember");
  add_when(app, when);
}

}  // namespace takehold::client
