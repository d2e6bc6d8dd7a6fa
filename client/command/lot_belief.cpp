#include "client/command/lot_belief.hpp"

#include <boost/math/distributions/beta.hpp>

#include "client/growth/viability.hpp"
#include "client/season/season.hpp"

namespace takehold::client {
Share share_of(const Chance& chance) {
  const boost::math::beta_distribution<> beta(chance.a, chance.b);
  return {chance.mean(), boost::math::quantile(beta, 0.05), boost::math::quantile(beta, 0.95)};
}

Chance viability_chance(const Book& book, const Lot& lot, sensors::Instant now) {
  const auto season = book.find<Season>("season");
  const int year =
      season ? sensors::year_of(season->ready_on) : sensors::year_of(book.time_zone().day_of(now));
  Chance chance =
      viability_prior(lot.origin.value_or(Origin::bought), year - lot.year.value_or(year));
  for (const LotTest& test : book.all<LotTest>()) {
    if (test.lot == lot.label) chance = chance.after(test.sprouted, test.sown);
  }
  return chance;
}

Share viability_of(const Book& book, const Lot& lot, sensors::Instant now) {
  return share_of(viability_chance(book, lot, now));
}

}  // namespace takehold::client
