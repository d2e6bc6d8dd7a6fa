#include "client/command/season_request.hpp"

#include <algorithm>

#include "client/book/load_season.hpp"
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

}  // namespace

PlanRequest request_of(const Book& book, sensors::Day made_on, const daemon::Regime& regime) {
  PlanRequest request = request_of(season_of(book), made_on, regime);
  for (const Lot& lot : request.lots) {
    request.on_hand[lot.label] = std::max(0, book.on_hand(lot.label));
  }
  request.takes = takes_in(book);
  return request;
}

}  // namespace takehold::client
