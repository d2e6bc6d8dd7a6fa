#include "client/command/crops.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "client/command/crop_side.hpp"
#include "client/command/grown.hpp"
#include "client/command/standing.hpp"

namespace takehold::client {
namespace {

bool is_finished(const Book& book, const std::string& subject) {
  if (kind_of_key(subject) != Kind::batch) return true;
  const auto batch = book.find<Batch>(subject);
  return batch && state_of(book, *batch).finish.has_value();
}

struct Subjects {
  std::vector<std::string> batches{}, sowings{};
};

/// By scion: what was set out or picked from in that season.
std::map<std::string, Subjects> subjects_in(const Book& book, const std::string& season) {
  const SeasonCalendar seasons(book);
  std::set<std::string> keys;
  for (const SetOut& planted : book.all<SetOut>()) {
    if (seasons.at(planted.at) == season) keys.insert(planted.subject);
  }
  std::set<std::string> bearing;
  for (const Harvest& picked : book.all<Harvest>()) {
    if (picked.subject.empty() || seasons.at(picked.at) != season) continue;
    keys.insert(picked.subject);
    bearing.insert(picked.subject);
  }
  std::map<std::string, Subjects> by_scion;
  std::set<std::string> picked_scions;
  for (const std::string& key : keys) {
    if (!is_finished(book, key)) continue;
    const GrownPlants plants = grown_plants(book, key);
    Subjects& subjects = by_scion[plants.variety];
    (plants.grafted ? subjects.batches : subjects.sowings).push_back(key);
    if (bearing.contains(key)) picked_scions.insert(plants.variety);
  }
  std::erase_if(by_scion, [&](const auto& one) { return !picked_scions.contains(one.first); });
  return by_scion;
}

void add_shared_doubts(const CropSide& grafted, const CropSide& own,
                       std::vector<std::string>& doubts) {
  for (const CropSide* side : {&grafted, &own}) {
    for (std::string& doubt : side->doubts()) doubts.push_back(std::move(doubt));
  }
  std::set<std::string> missing = grafted.missing();
  missing.insert(own.missing().begin(), own.missing().end());
  if (!missing.empty()) doubts.push_back(fmt::format("Not known: {}.", fmt::join(missing, ", ")));
  const auto shared = [&](const std::string& bed) { return own.beds().contains(bed); };
  const bool apart = !grafted.beds().empty() && !own.beds().empty() &&
                     std::none_of(grafted.beds().begin(), grafted.beds().end(), shared);
  if (apart) doubts.emplace_back("They stood in different beds: the bed may be the reason.");
}

}  // namespace

SeasonCalendar::SeasonCalendar(const Book& book) : closes_(book.all<SeasonClose>()) {
  std::stable_sort(closes_.begin(), closes_.end(),
                   [](const SeasonClose& a, const SeasonClose& b) { return a.at < b.at; });
  if (const auto season = book.find<Season>("season")) open_ = season->season;
}

const std::string& SeasonCalendar::at(sensors::Instant at) const {
  const auto next = std::find_if(closes_.begin(), closes_.end(),
                                 [at](const SeasonClose& close) { return close.at >= at; });
  return next == closes_.end() ? open_ : next->season;
}

std::vector<std::string> seasons_picked(const Book& book) {
  std::vector<Harvest> pickings = book.all<Harvest>();
  std::stable_sort(pickings.begin(), pickings.end(),
                   [](const Harvest& a, const Harvest& b) { return a.at < b.at; });
  const SeasonCalendar seasons(book);
  std::vector<std::string> names;
  for (const Harvest& picked : pickings) {
    const std::string& season = seasons.at(picked.at);
    if (names.empty() || names.back() != season) names.push_back(season);
  }
  return names;
}

std::vector<ScionCrops> crops_of(const Book& book, const std::string& season) {
  std::vector<ScionCrops> all;
  for (const auto& [scion, subjects] : subjects_in(book, season)) {
    CropSide grafted(book, "grafted"), own(book, "on own roots");
    for (const std::string& batch : subjects.batches) grafted.add(batch);
    for (const std::string& sowing : subjects.sowings) own.add(sowing);
    ScionCrops crops{scion, grafted.crop(), own.crop(), {}};
    add_shared_doubts(grafted, own, crops.doubts);
    all.push_back(std::move(crops));
  }
  return all;
}

}  // namespace takehold::client
