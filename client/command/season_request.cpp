#include "client/command/season_request.hpp"

#include <algorithm>

#include "client/book/load_season.hpp"
#include "client/command/batch_view.hpp"
#include "client/command/grafts_made.hpp"
#include "client/command/lot_history.hpp"
#include "client/command/lot_seen.hpp"
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

/// Seeds that may stand in the tray, of a sowing never counted.
int uncounted(const SowingState& state) {
  return std::max(0, state.sowing.seeds - state.grafted - state.lost - state.culled);
}

std::vector<SownSeed> sown_in(const Book& book, sensors::Instant now) {
  std::vector<SownSeed> sown;
  for (Sowing sowing : book.all<Sowing>()) {
    if (years_ago(book, sowing.at) > 0) continue;
    const SowingState state = state_of(book, sowing);
    const Day sown_on = book.time_zone().day_of(sowing.at);
    SownSeed seed{sowing.id,      sowing.lot,  state.variety,   sown_on, uncounted(state),
                  state.standing, sowing.side, sowing.pairings, {}};
    sowing.at = book.time_zone().noon(sown_on);
    seed.course = std::make_shared<Course>(warmth_of(book, sowing, now).hourly);
    sown.push_back(std::move(seed));
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

constexpr std::chrono::hours kHalfDay{12};  // what was told of the day the plan is made counts

}  // namespace

PlanRequest request_of(const Book& book, sensors::Day made_on, const daemon::Regime& regime) {
  PlanRequest request = request_of(season_of(book), made_on, regime);
  for (const Lot& lot : request.lots) {
    request.on_hand[lot.label] = std::max(0, book.on_hand(lot.label));
  }
  const sensors::Instant now = book.time_zone().noon(made_on) + kHalfDay;
  request.sown = sown_in(book, now);
  for (const Pairing& pairing : request.pairings) request.made[pairing.id] = made_of(book, pairing);
  request.takes = takes_in(book);
  request.inside = inside_of(book);
  return request;
}

void add_knowledge(const Book& book, PlanRequest& request) {
  request.known = known_lots(book, book.time_zone().noon(request.made_on) + kHalfDay);
}

}  // namespace takehold::client
