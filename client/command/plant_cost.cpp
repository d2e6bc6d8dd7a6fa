#include "client/command/plant_cost.hpp"

#include <algorithm>

#include "client/season/season.hpp"
#include "client/season/seed.hpp"
#include "client/takes/worth.hpp"

namespace takehold::client {
namespace {

std::optional<double> cost_of_seed(const Book& book, const std::string& label,
                                   std::set<std::string>& missing) {
  const auto lot = book.find<Lot>(label);
  const int bought = lot ? lot->packet_seeds.value_or(lot->seeds) : 0;
  if (lot && lot->price && bought > 0) return *lot->price / bought;
  const bool saved = lot && lot->origin && *lot->origin != Origin::bought;
  if (saved && !lot->price) return 0;
  missing.insert("the price of lot " + label);
  return std::nullopt;
}

/// Seedlings that a sowing gave: the most that were ever counted, else one for each seed.
int seedlings_of(const Book& book, const Sowing& sowing) {
  int most = 0;
  for (const Emerged& count : book.all<Emerged>()) {
    if (count.sowing == sowing.id) most = std::max(most, count.standing);
  }
  return most > 0 ? most : sowing.seeds;
}

/// The mean of those sowings; none if one of them is not known, or there is none.
std::optional<double> cost_of_side(const Book& book, const std::vector<std::string>& sowings,
                                   std::set<std::string>& missing) {
  double sum = 0;
  bool known = !sowings.empty();
  for (const std::string& id : sowings) {
    const auto sowing = book.find<Sowing>(id);
    const auto cost = sowing ? cost_of_seedling(book, *sowing, missing) : std::nullopt;
    known = known && cost;
    sum += cost.value_or(0);
  }
  if (!known) return std::nullopt;
  return sum / static_cast<double>(sowings.size());
}

}  // namespace

std::optional<double> cost_of_seedling(const Book& book, const Sowing& sowing,
                                       std::set<std::string>& missing) {
  const auto seed = cost_of_seed(book, sowing.lot, missing);
  const auto season = book.find<Season>("season");
  const auto cell = season ? season->cell_price : std::nullopt;
  if (!cell) missing.insert("cell_price");
  if (!seed || !cell) return std::nullopt;
  return (sowing.seeds * *seed + sowing.cells * *cell) / seedlings_of(book, sowing);
}

std::optional<double> cost_of_grafted_plant(const Book& book, const BatchState& state,
                                            std::set<std::string>& missing) {
  const auto below = cost_of_side(book, state.batch.rootstock_sowings, missing);
  const auto above = cost_of_side(book, state.batch.scion_sowings, missing);
  const auto season = book.find<Season>("season");
  const auto graft = season ? season->graft_price : std::nullopt;
  if (!graft) missing.insert("graft_price");
  const int judged = state.taken() + state.lost;
  if (!below || !above || !graft || judged == 0) return std::nullopt;
  return cost_of_living_graft(*graft + *below + *above,
                              static_cast<double>(state.taken()) / judged);
}

}  // namespace takehold::client
