#include "client/command/lot_belief.hpp"

#include <boost/math/distributions/beta.hpp>

#include "client/growth/viability.hpp"
#include "client/season/season.hpp"

namespace takehold::client {
namespace {

SeedOrigin origin_of(const Lot& lot) {
  switch (lot.origin.value_or(Origin::bought)) {
    case Origin::bought:
      return SeedOrigin::bought;
    case Origin::fermented:
      return SeedOrigin::fermented;
    case Origin::paper:
      return SeedOrigin::paper;
  }
  return SeedOrigin::bought;
}

}  // namespace

Share share_of(const Chance& chance) {
  const boost::math::beta_distribution<> beta(chance.a, chance.b);
  return {chance.mean(), boost::math::quantile(beta, 0.05), boost::math::quantile(beta, 0.95)};
}

Chance viability_chance(const Book& book, const Lot& lot, sensors::Instant now) {
  const auto season = book.find<Season>("season");
  const int year =
      season ? sensors::year_of(season->ready_on) : sensors::year_of(book.time_zone().day_of(now));
  Chance chance = viability_prior(origin_of(lot), year - lot.year.value_or(year));
  for (const LotTest& test : book.all<LotTest>()) {
    if (test.lot == lot.label) chance = chance.after(test.sprouted, test.sown);
  }
  return chance;
}

Share viability_of(const Book& book, const Lot& lot, sensors::Instant now) {
  return share_of(viability_chance(book, lot, now));
}

}  // namespace takehold::client
