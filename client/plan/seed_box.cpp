#include "client/plan/seed_box.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <limits>

#include "client/growth/viability.hpp"
#include "sensors/quantity/problem.hpp"

namespace takehold::client {
namespace {

// What a seed costs where the sheet says nothing (assumed): rootstock seed is the dear one.
double assumed_price(Species species) {
  return species == Species::interspecific ? 0.50 : 0.10;
}

// A lot of unknown year counts as this year's, one of unknown origin as bought (assumed).
Chance viability_of(const Lot& lot, const PlanRequest& request) {
  const int season = sensors::year_of(request.season.ready_on);
  Chance chance =
      viability_prior(lot.origin.value_or(Origin::bought), season - lot.year.value_or(season));
  for (const LotTest& test : request.lot_tests) {
    if (test.lot == lot.label) chance = chance.after(test.sprouted, test.sown);
  }
  return chance;
}

SeedSource source_of(const Lot& lot, const PlanRequest& request, Species species) {
  SeedSource source;
  source.lot = lot.label;
  source.variety = lot.variety;
  source.year = lot.year;
  const auto known = request.known.find(lot.label);
  source.known = known == request.known.end() ? assumed_of(species, viability_of(lot, request))
                                              : known->second;
  for (const LotTest& test : request.lot_tests)
    source.tested += test.lot == lot.label ? test.sown : 0;
  const int packet = lot.packet_seeds.value_or(lot.seeds);
  source.price_is_known = lot.price && packet > 0;
  source.price_each = source.price_is_known ? *lot.price / packet : assumed_price(species);
  source.record = lot;
  const auto left = request.on_hand.find(lot.label);
  source.on_hand = left == request.on_hand.end() ? lot.seeds : left->second;
  return source;
}

}  // namespace

SeedBox::SeedBox(const PlanRequest& request) : varieties_(request.varieties) {
  for (const Lot& lot : request.lots) {
    sources_.push_back(source_of(lot, request, variety(lot.variety).species));
  }
}

const Variety& SeedBox::variety(const std::string& name) const {
  for (const Variety& variety : varieties_) {
    if (variety.name == name) return variety;
  }
  throw sensors::Refused(
      {"unknown-variety", fmt::format("there is no variety \"{}\"", name), "", name, ""});
}

std::vector<std::size_t> SeedBox::sources_of(const std::string& name,
                                             const std::optional<std::string>& named) {
  std::vector<std::size_t> found;
  for (std::size_t i = 0; i < sources_.size(); ++i) {
    const SeedSource& source = sources_[i];
    if (source.variety == name && (!named || source.lot == named)) found.push_back(i);
  }
  if (named && found.empty()) {
    throw sensors::Refused(
        {"unknown-lot", fmt::format("there is no lot \"{}\" of {}", *named, name), "", *named, ""});
  }
  const int now = std::numeric_limits<int>::max();
  std::stable_sort(found.begin(), found.end(), [&](std::size_t a, std::size_t b) {
    return sources_[a].year.value_or(now) < sources_[b].year.value_or(now);
  });
  if (!found.empty()) return found;
  SeedSource bought;
  bought.variety = name;
  bought.known = assumed_of(variety(name).species, viability_prior(Origin::bought, 0));
  bought.price_each = assumed_price(variety(name).species);
  sources_.push_back(bought);
  return {sources_.size() - 1};
}

std::optional<std::size_t> SeedBox::source_of_lot(const std::string& label) const {
  for (std::size_t i = 0; i < sources_.size(); ++i) {
    if (sources_[i].lot == label) return i;
  }
  return std::nullopt;
}

LotBelief SeedBox::belief(std::size_t index) const {
  const SeedSource& source = sources_[index];
  const std::string name = source.lot.value_or("to buy: " + source.variety);
  return {luck_key(name), variety(source.variety).species, source.known};
}

int SeedBox::left(std::size_t index) const {
  const SeedSource& source = sources_[index];
  return source.lot ? source.on_hand - source.needed : std::numeric_limits<int>::max();
}

}  // namespace takehold::client
