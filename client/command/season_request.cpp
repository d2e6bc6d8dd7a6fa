#include "client/command/season_request.hpp"

#include <algorithm>

#include "client/command/opened_book.hpp"
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

PlanRequest request_of(const Book& book, sensors::Day made_on, std::chrono::minutes regime_length) {
  PlanRequest request;
  request.made_on = made_on;
  request.season = season_in(book);
  request.benches = book.all<Bench>();
  std::stable_sort(request.benches.begin(), request.benches.end(),
                   [](const Bench& a, const Bench& b) { return a.position < b.position; });
  request.varieties = book.all<Variety>();
  request.lots = book.all<Lot>();
  request.lot_tests = book.all<LotTest>();
  for (const Lot& lot : request.lots) {
    request.on_hand[lot.label] = std::max(0, book.on_hand(lot.label));
  }
  request.pairings = book.all<Pairing>();
  request.own_roots = book.all<OwnRoot>();
  request.takes = takes_in(book);
  request.regime_length = regime_length;
  return request;
}

}  // namespace takehold::client
