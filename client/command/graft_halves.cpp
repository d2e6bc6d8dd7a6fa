#include "client/command/graft_halves.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "client/command/standing.hpp"

namespace takehold::client {

namespace {

std::string ids_text(const std::vector<Sowing>& sowings) {
  std::string text;
  for (const Sowing& sowing : sowings) text += (text.empty() ? "" : ", ") + sowing.id;
  return text;
}

Sowing checked_sowing(const Book& book, const HalfOrder& half, const std::string& typed_sowing) {
  const Sowing sowing = find_numbered<Sowing>(book, typed_sowing);
  const std::string variety = state_of(book, sowing).variety;
  if (variety == half.variety) return sowing;
  refuse("wrong-variety",
         fmt::format("{} is {}, the {} is {}", sowing.id, variety, half.word, half.variety),
         half.option);
}

std::vector<Sowing> sowings_of(const Book& book, const HalfOrder& half) {
  std::set<std::string> named(half.from.begin(), half.from.end());
  for (const auto& seedling : half.seedlings) {
    if (!seedling.empty()) named.insert(sowing_of_seedling(seedling));
  }
  std::vector<Sowing> sowings;
  for (const auto& name : named) sowings.push_back(checked_sowing(book, half, name));
  if (!sowings.empty()) return sowings;
  sowings = eligible_sowings(book, half.variety);
  if (sowings.empty()) {
    refuse("no-seedlings", fmt::format("no seedlings of {} stand", half.variety), half.word);
  }
  if (sowings.size() > 1) {
    refuse("which-sowing",
           fmt::format("seedlings of {} come from {}", half.variety, ids_text(sowings)),
           half.option, fmt::format("say which: {} {}", half.option, sowings.front().id));
  }
  return sowings;
}

void check_enough(const Book& book, const std::vector<Sowing>& sowings, int wanted,
                  const HalfOrder& half) {
  int standing = 0;
  for (const Sowing& sowing : sowings) {
    standing += state_of(book, sowing).standing.value_or(sowing.seeds);
  }
  if (wanted <= standing) return;
  refuse("more-than-stand",
         fmt::format("{} grafts, but {} seedlings of {} stand", wanted, standing, half.variety),
         half.word, "count them again with takehold emerged");
}

std::map<std::string, std::string> grafted_seedlings(const Book& book) {
  std::map<std::string, std::string> grafted;
  for (const Batch& batch : book.all<Batch>()) {
    for (const Graft& graft : batch.grafts) {
      grafted[graft.rootstock] = grafted[graft.scion] = batch.id;
    }
  }
  return grafted;
}

void check_seedlings(const Book& book, const HalfOrder& half) {
  std::set<std::string> seen;
  const auto grafted = grafted_seedlings(book);
  for (const auto& seedling : half.seedlings) {
    if (seedling.empty()) continue;
    if (!seen.insert(seedling).second) refuse("twice", "this seedling is grafted twice", seedling);
    const auto before = grafted.find(seedling);
    if (before != grafted.end() && !half.again) {
      refuse("grafted-already", "it was grafted in " + before->second, seedling,
             "a graft that failed is made again with --repairs " + before->second);
    }
    const auto sowing = find_numbered<Sowing>(book, sowing_of_seedling(seedling));
    const int number = std::stoi(seedling.substr(seedling.find('-') + 1));
    if (number < 1 || number > sowing.seeds) {
      refuse("no-such-seedling", fmt::format("{} has {} seeds", sowing.id, sowing.seeds), seedling);
    }
  }
}

std::vector<std::string> ids_of(const std::vector<Sowing>& sowings) {
  std::vector<std::string> ids;
  for (const Sowing& sowing : sowings) ids.push_back(sowing.id);
  return ids;
}

}  // namespace

std::vector<Sowing> eligible_sowings(const Book& book, const std::string& variety) {
  std::vector<Sowing> eligible;
  for (const Sowing& sowing : book.all<Sowing>()) {
    const auto state = state_of(book, sowing);
    const bool own_root = sowing.side == Side::own_root;
    if (state.variety == variety && !own_root && state.standing != 0) eligible.push_back(sowing);
  }
  return eligible;
}

std::string in_full(const Book& book, const HalfOrder& half, const std::string& seedling) {
  if (!is_short_seedling(seedling)) return seedling;
  const HalfOrder nameless{half.option, half.word, half.variety, half.from, {}};
  const auto sowings = sowings_of(book, nameless);
  if (sowings.size() == 1) return fmt::format("{}-{}", sowings.front().id, seedling.substr(1));
  refuse("which-sowing", fmt::format("{} may be of {}", seedling, ids_text(sowings)), half.option,
         fmt::format("write it in full, as {}-{}", sowings.front().id, seedling.substr(1)));
}

std::vector<std::string> take_half(const Book& book, const HalfOrder& half, int wanted) {
  check_seedlings(book, half);
  if (half.again && half.seedlings.empty()) return half.from;
  const auto sowings = sowings_of(book, half);
  if (!half.again) check_enough(book, sowings, wanted, half);
  return ids_of(sowings);
}

}  // namespace takehold::client
