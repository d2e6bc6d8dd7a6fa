#include "client/command/match_book.hpp"

#include <fmt/format.h>

#include <set>

#include "client/command/graft.hpp"
#include "client/command/recording.hpp"
#include "client/command/standing.hpp"

namespace takehold::client {

namespace {

std::set<std::string> grafted_seedlings(const Book& book) {
  std::set<std::string> grafted;
  for (const Batch& batch : book.all<Batch>()) {
    for (const Graft& graft : batch.grafts) {
      grafted.insert(graft.rootstock);
      grafted.insert(graft.scion);
    }
  }
  return grafted;
}

StemSide side_of(const Book& book, const std::string& variety, const std::set<std::string>& grafted,
                 std::optional<sensors::Instant>& oldest) {
  StemSide side;
  for (const Sowing& sowing : eligible_sowings(book, variety)) {
    const auto measured = state_of(book, sowing).measured;
    if (!measured) continue;
    if (!oldest || measured->at < *oldest) oldest = measured->at;
    for (const Stem& stem : measured->stems) {
      const std::string name = fmt::format("{}-{}", sowing.id, stem.number);
      if (grafted.contains(name)) continue;
      side.stems.push_back(stem.diameter.um());
      side.names.push_back(name);
    }
  }
  if (side.stems.empty()) {
    refuse("not-measured", "no seedling of it has been measured in full", variety,
           "takehold measure S1 2.0 2.1 ...");
  }
  return side;
}

}  // namespace

MeasuredPairing measured_stems(const Book& book, const Pairing& pairing) {
  const auto grafted = grafted_seedlings(book);
  MeasuredPairing measured;
  measured.rootstocks = side_of(book, pairing.rootstock, grafted, measured.oldest);
  measured.scions = side_of(book, pairing.scion, grafted, measured.oldest);
  return measured;
}

Tolerance season_tolerance(const Book& book) {
  const auto season = book.find<Season>("season");
  return Tolerance::percent_of_mean(season ? season->tolerance_pct : Season{}.tolerance_pct);
}

}  // namespace takehold::client
