#include "client/command/accept_plan.hpp"

#include <algorithm>
#include <set>

#include "client/book/closed_season.hpp"
#include "client/book/recorder.hpp"
#include "client/season/planned.hpp"

namespace takehold::client {
namespace {

/// Planned sowings that no sowing fulfils yet.
std::vector<PlannedSowing> open_sowings(const Book& book) {
  std::set<std::string> done;
  for (const Sowing& sowing : book.all<Sowing>()) {
    if (sowing.planned) done.insert(*sowing.planned);
  }
  std::vector<PlannedSowing> lines = book.all<PlannedSowing>();
  std::erase_if(lines, [&](const PlannedSowing& line) { return done.contains(line.id); });
  return lines;
}

std::vector<std::string> pairings_of(const SowingLine& line, const Book& book) {
  std::vector<std::string> ids;
  for (const std::string& purpose : line.purposes) {
    if (book.find<Pairing>(purpose)) ids.push_back(purpose);
  }
  return ids;
}

/// Takes the number of an open line for the same lot and purpose out of `open`, or a new one.
std::string number_for(const PlannedSowing& line, std::vector<PlannedSowing>& open,
                       Recorder& recorder) {
  const auto same = std::find_if(open.begin(), open.end(), [&](const PlannedSowing& other) {
    return other.lot == line.lot && other.side == line.side && other.pairings == line.pairings;
  });
  if (same == open.end()) return recorder.next_number(Kind::planned_sowing);
  const std::string id = same->id;
  open.erase(same);
  return id;
}

void put_sowings(Recorder& recorder, const SeasonPlan& plan, Accepted& accepted) {
  auto open = open_sowings(recorder.book());
  for (const SowingLine& line : plan.sowings) {
    if (!line.lot) {
      ++accepted.without_seed;
      continue;
    }
    PlannedSowing planned;
    planned.lot = *line.lot;
    planned.sow_on = line.sow_on;
    planned.seeds = line.seeds;
    planned.cells = line.cells;
    planned.side = line.side;
    planned.pairings = pairings_of(line, recorder.book());
    planned.id = number_for(planned, open, recorder);
    recorder.put(planned);
    ++accepted.sowings;
  }
  for (const PlannedSowing& left : open) recorder.drop<PlannedSowing>(left.id);
}

void put_grafts(Recorder& recorder, const SeasonPlan& plan, Accepted& accepted) {
  std::vector<PlannedGraft> open = recorder.book().all<PlannedGraft>();
  for (const PlannedPairing& pairing : plan.pairings) {
    if (!pairing.graft_on || pairing.grafts < 1 || pairing.id.empty()) continue;
    const auto same = std::find_if(open.begin(), open.end(), [&](const PlannedGraft& other) {
      return other.pairing == pairing.id;
    });
    PlannedGraft planned;
    planned.id = same == open.end() ? recorder.next_number(Kind::planned_graft) : same->id;
    if (same != open.end()) open.erase(same);
    planned.pairing = pairing.id;
    planned.graft_on = *pairing.graft_on;
    planned.grafts = pairing.grafts;
    planned.probability = pairing.probability;
    recorder.put(planned);
    ++accepted.grafts;
  }
  for (const PlannedGraft& left : open) recorder.drop<PlannedGraft>(left.id);
}

}  // namespace

Accepted accept_plan(Book& book, const SeasonPlan& plan, std::string_view words,
                     sensors::Instant now) {
  refuse_closed(book);
  Accepted accepted;
  accepted.command = book.record(words, now, [&](Recorder& recorder) {
    put_sowings(recorder, plan, accepted);
    put_grafts(recorder, plan, accepted);
  });
  return accepted;
}

}  // namespace takehold::client
