#include "client/command/lot_history.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "client/command/lot_belief.hpp"
#include "client/command/lot_seen.hpp"
#include "client/season/season.hpp"

namespace takehold::client {
namespace {

constexpr double kDaysAYear = 365.25;

LotHistory history_of(const Book& book, const Lot& lot, sensors::Instant now) {
  std::map<int, SeasonSeen, std::greater<>> seasons;
  for (const Sowing& sowing : book.all<Sowing>()) {
    if (sowing.lot != lot.label || sowing.at > now) continue;
    const int ago = years_ago(book, sowing.at);
    if (ago > kYearsRemembered) continue;
    seasons[ago].years_ago = ago;
    seasons[ago].sowings.push_back(sowing_seen(book, sowing, warmth_of(book, sowing, now), now));
  }
  LotHistory history{lot.label, viability_chance(book, lot, now), {}};
  for (auto& [ago, season] : seasons) history.seasons.push_back(std::move(season));
  return history;
}

}  // namespace

int years_ago(const Book& book, sensors::Instant at) {
  const auto season = book.find<Season>("season");
  if (!season) return 0;
  const auto days = (season->ready_on - book.time_zone().day_of(at)).count();
  const int years = std::max(0, static_cast<int>(std::lround(days / kDaysAYear)));
  for (const SeasonClose& close : book.all<SeasonClose>()) {
    if (close.season != season->season && close.at >= at) return std::max(1, years);
  }
  return years;
}

std::vector<LotHistory> histories_of(const Book& book, const std::string& variety,
                                     sensors::Instant now) {
  std::vector<LotHistory> histories;
  for (const Lot& lot : book.all<Lot>()) {
    if (lot.variety == variety) histories.push_back(history_of(book, lot, now));
  }
  return histories;
}

std::map<std::string, LotKnowledge> known_lots(const Book& book, sensors::Instant now) {
  std::map<std::string, LotKnowledge> known;
  for (const Variety& variety : book.all<Variety>()) {
    const auto histories = histories_of(book, variety.name, now);
    auto lots = known_of(variety.species, histories);
    for (std::size_t i = 0; i < lots.size(); ++i) known[histories[i].lot] = std::move(lots[i]);
  }
  return known;
}

}  // namespace takehold::client
