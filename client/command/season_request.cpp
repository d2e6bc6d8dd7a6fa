#include "client/command/season_request.hpp"

#include <algorithm>

#include "client/book/load_season.hpp"
#include "client/command/batch_view.hpp"
#include "client/command/standing.hpp"

namespace takehold::client {
namespace {

/// Only batches whose fate is known count; those scored early stay out of rates.
std::map<std::string, Tally> takes_in(const Book& book) {
  std::map<std::string, Tally> takes;
  for (const Batch& batch : book.all<Batch>()) {
    const BatchState state = state_of(book, batch);
    if (!state.finish || state.finish->early) continue;
    Tally& tally = takes[batch.scion + "/" + batch.rootstock];
    tally.yes += state.taken();
    tally.tried += state.taken() + state.lost;
  }
  return takes;
}

std::vector<SownSeed> sown_in(const Book& book) {
  std::vector<SownSeed> sown;
  for (const Sowing& sowing : book.all<Sowing>()) {
    const SowingState state = state_of(book, sowing);
    sown.push_back({sowing.id, sowing.lot, state.variety, book.time_zone().day_of(sowing.at),
                    sowing.seeds, state.standing, sowing.side, sowing.pairings});
  }
  return sown;
}

/// Batches that stand in the chamber, with what the grower did to their stages.
std::vector<BatchInside> inside_of(const Book& book) {
  std::vector<BatchInside> inside;
  for (const Batch& batch : book.all<Batch>()) {
    const BatchState state = state_of(book, batch);
    if (state.place != kChamber || state.finish || state.living() <= 0) continue;
    inside.push_back(
        {batch.id, state.living(), batch.at, regime_of(batch), manual_events(state.events)});
  }
  return inside;
}

}  // namespace

PlanRequest request_of(const Book& book, sensors::Day made_on, const daemon::Regime& regime) {
  PlanRequest request = request_of(season_of(book), made_on, regime);
  for (const Lot& lot : request.lots) {
    request.on_hand[lot.label] = std::max(0, book.on_hand(lot.label));
  }
  request.sown = sown_in(book);
  request.takes = takes_in(book);
  request.inside = inside_of(book);
  return request;
}

}  // namespace takehold::client
