#include "client/command/forecast_trays.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "client/command/lot_seen.hpp"
#include "client/season/place.hpp"
#include "client/season/planned.hpp"

namespace takehold::client {
namespace {

constexpr std::chrono::days kSameSowing{7};

class Gatherer {
 public:
  Gatherer(const Book& book, sensors::Instant now)
      : book_(book), now_(now), today_(book.time_zone().day_of(now)) {}

  ForecastTrays gather(const std::vector<Lot>& lots) {
    for (const Lot& lot : lots) add_lot(lot);
    for (const Sowing& sowing : book_.all<Sowing>()) {
      const bool young = sowing.at <= now_ && sowing.at >= now_ - kSeedlingLife;
      if (young && places_.contains(sowing.lot)) add_sown(sowing);
    }
    add_planned();
    return std::move(told_);
  }

 private:
  void add_lot(const Lot& lot) {
    ForecastLot known;
    known.label = lot.label;
    known.variety = lot.variety;
    known.seen = std::make_shared<LotSeen>(lot_seen(book_, lot, now_));
    known.posterior = std::make_shared<LotPosterior>(*known.seen);
    known.on_hand = std::max(0, book_.on_hand(lot.label));
    places_[lot.label] = told_.lots.size();
    told_.lots.push_back(std::move(known));
  }

  void add_sown(const Sowing& sowing) {
    const SowingState state = state_of(book_, sowing);
    if (state.standing == 0 && state.grafted + state.lost + state.culled > 0) return;
    const LivedWarmth warmth = warmth_of(book_, sowing, now_);
    told_.warmth.add(warmth);
    ForecastTray tray;
    tray.id = sowing.id;
    tray.lot = places_[sowing.lot];
    tray.seen = sowing_seen(book_, sowing, warmth, now_);
    tray.hourly = warmth.hourly;
    tray.state = tray_state(book_, state);
    tray.age = std::chrono::duration_cast<Age>(book_.time_zone().noon(today_) - sowing.at);
    tray.sown_on = book_.time_zone().day_of(sowing.at);
    tray.bench = state.place;
    told_.seeds.push_back({sowing.id, sowing.lot, state.variety, tray.sown_on, sowing.seeds,
                           state.standing, sowing.side, sowing.pairings});
    told_.trays.push_back(std::move(tray));
  }

  /// The line's day is over, and its lot was sown about then without naming the line.
  bool was_sown_all_the_same(const PlannedSowing& line) const {
    return line.sow_on < today_ &&
           std::any_of(told_.trays.begin(), told_.trays.end(), [&](const ForecastTray& tray) {
             const auto apart = std::chrono::abs(tray.sown_on - line.sow_on);
             return told_.lots[tray.lot].label == line.lot && apart <= kSameSowing;
           });
  }

  /// Lines of the accepted plan that nothing fulfils yet: sown on their day, or today.
  void add_planned() {
    std::set<std::string> done;
    for (const Sowing& sowing : book_.all<Sowing>()) {
      if (sowing.planned) done.insert(*sowing.planned);
    }
    const auto hourly = hourly_from_noon(first_bench(book_), kSeedlingLife);
    for (const PlannedSowing& line : book_.all<PlannedSowing>()) {
      if (done.contains(line.id) || !places_.contains(line.lot) || was_sown_all_the_same(line)) {
        continue;
      }
      ForecastTray tray;
      tray.id = line.id;
      tray.lot = places_[line.lot];
      tray.sown_on = std::max(line.sow_on, today_);
      tray.hourly = hourly;
      tray.seen.course = std::make_shared<Course>(hourly);
      tray.seen.seeds = line.seeds;
      tray.age = Age(today_ - tray.sown_on);
      told_.planned.push_back(line.id);
      told_.seeds.push_back({line.id, line.lot, told_.lots[tray.lot].variety, tray.sown_on,
                             line.seeds, std::nullopt, line.side, line.pairings});
      told_.trays.push_back(std::move(tray));
    }
  }

  const Book& book_;
  sensors::Instant now_;
  Day today_;
  std::map<std::string, std::size_t> places_{};
  ForecastTrays told_{};
};

}  // namespace

ForecastTrays forecast_trays(const Book& book, sensors::Instant now, const std::vector<Lot>& lots) {
  return Gatherer(book, now).gather(lots);
}

}  // namespace takehold::client
