#include "client/forecast/drawn_trays.hpp"

#include <cmath>

#include "client/growth/keyed_random.hpp"
#include "client/plan/lot_seasons.hpp"

namespace takehold::client {
namespace {

// First parts of the keys; the plan's own purposes stay below them.
constexpr std::uint64_t kLot = 101, kSeedlings = 102;

}  // namespace

DrawnTrays::DrawnTrays(const ForecastRequest& request)
    : seasons_(request.seasons), random_(request.seed) {
  for (const ForecastLot& lot : request.lots) draw_lot(lot);
  for (const ForecastTray& tray : request.trays) add(request, tray);
}

void DrawnTrays::draw_lot(const ForecastLot& lot) {
  const std::uint64_t key = luck_key(lot.label);
  std::vector<LotDraw> draws;
  std::vector<double> vigour;
  for (int season = 0; season < seasons_; ++season) {
    const auto dice = random_.stream({kLot, key, static_cast<std::uint64_t>(season)});
    draws.push_back(lot.posterior->draw(
        {dice.uniform(0), dice.uniform(1), dice.uniform(2), dice.uniform(3), dice.uniform(4)}));
    vigour.push_back(std::exp(draws.back().ln_vigour));
  }
  lots_.push_back(std::move(draws));
  vigour_.push_back(std::move(vigour));
}

void DrawnTrays::add(const ForecastRequest& request, const ForecastTray& tray) {
  const ForecastLot& lot = request.lots[tray.lot];
  const SeedlingDraws seedlings(tray.seen, lot.seen->species, tray.state);
  const std::uint64_t key = luck_key(tray.id);
  Tray drawn;
  for (int season = 0; season < seasons_; ++season) {
    const auto dice = random_.stream({kSeedlings, key, static_cast<std::uint64_t>(season)});
    seedlings.draw(lots_[tray.lot][static_cast<std::size_t>(season)], dice, drawn.seedlings);
    drawn.begins.push_back(drawn.seedlings.size());
  }
  lot_of_.push_back(tray.lot);
  trays_.push_back(std::move(drawn));
}

std::span<const DrawnSeedling> DrawnTrays::in(int season, std::size_t tray) const {
  const Tray& drawn = trays_[tray];
  const auto at = static_cast<std::size_t>(season);
  return {drawn.seedlings.data() + drawn.begins[at], drawn.begins[at + 1] - drawn.begins[at]};
}

}  // namespace takehold::client
