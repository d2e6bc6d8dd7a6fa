#include "client/command/forecast_request.hpp"

#include <algorithm>

#include "client/command/grafts_wanted.hpp"
#include "client/command/season_request.hpp"
#include "client/plan/counts.hpp"
#include "client/plan/sown_parts.hpp"
#include "client/season/planned.hpp"

namespace takehold::client {
namespace {

constexpr int kDaysBeyond = 14;  // after the last day in time that are still looked at
constexpr int kMostDays = 140;

class Gatherer {
 public:
  Gatherer(const Book& book, sensors::Instant now, const daemon::Regime& regime)
      : book_(book),
        now_(now),
        plan_(request_of(book, book.time_zone().day_of(now), regime)),
        wanted_(book, plan_) {
    request().today = plan_.made_on;
    request().season = plan_.season;
    request().benches = plan_.benches;
    std::stable_sort(request().benches.begin(), request().benches.end(),
                     [](const Bench& a, const Bench& b) { return a.position < b.position; });
  }

  BookForecast gather(const std::vector<std::string>& only) {
    for (const Pairing& pairing : plan_.pairings) {
      const bool asked = only.empty() ||
                         std::find(only.begin(), only.end(), pairing.id) != only.end() ||
                         shares_with(only, pairing);
      if (asked) asked_.push_back(&pairing);
    }
    std::vector<Lot> lots;
    for (const Lot& lot : plan_.lots) {
      if (is_of_interest(lot.variety)) lots.push_back(lot);
    }
    ForecastTrays trays = forecast_trays(book_, now_, lots);
    request().lots = std::move(trays.lots);
    request().trays = std::move(trays.trays);
    told_.warmth = trays.warmth;
    told_.planned = std::move(trays.planned);
    seeds_ = std::move(trays.seeds);
    for (const Pairing* pairing : asked_) add_pairing(*pairing);
    for (const ForecastPairing& pairing : request().pairings) {
      const auto to_last = static_cast<int>((pairing.last_on - plan_.made_on).count());
      request().days = std::clamp(to_last + kDaysBeyond, request().days, kMostDays);
    }
    return std::move(told_);
  }

 private:
  ForecastRequest& request() { return told_.request; }

  bool shares_with(const std::vector<std::string>& only, const Pairing& pairing) const {
    return std::any_of(plan_.pairings.begin(), plan_.pairings.end(), [&](const Pairing& other) {
      const bool asked = std::find(only.begin(), only.end(), other.id) != only.end();
      return asked && (other.rootstock == pairing.rootstock || other.scion == pairing.scion);
    });
  }

  bool is_of_interest(const std::string& variety) const {
    return std::any_of(asked_.begin(), asked_.end(), [&](const Pairing* pairing) {
      return pairing->scion == variety || pairing->rootstock == variety;
    });
  }

  std::vector<std::size_t> trays_for(const Pairing& pairing, Side side) const {
    std::vector<std::size_t> trays;
    for (std::size_t i = 0; i < seeds_.size(); ++i) {
      if (serves(seeds_[i], pairing, side)) trays.push_back(i);
    }
    return trays;
  }

  /// Whole where this pairing alone uses the tray, or where all that do use the same rootstocks;
  /// else its part by what each wants.
  TrayShare share_of(std::size_t tray, const Pairing& pairing, Side side) const {
    double before = 0, all = 0;
    bool same = side == Side::rootstock;
    for (const Pairing* other : asked_) {
      if (!serves(seeds_[tray], *other, side)) continue;
      same = same && trays_for(*other, side) == trays_for(pairing, side);
      if (other == &pairing) before = all;
      all += other->want;
    }
    if (same || all <= 0) return {tray};
    return {tray, before / all, (before + pairing.want) / all};
  }

  std::vector<TrayShare> side_of(const Pairing& pairing, Side side) const {
    std::vector<TrayShare> shares;
    for (const std::size_t tray : trays_for(pairing, side)) {
      shares.push_back(share_of(tray, pairing, side));
    }
    return shares;
  }

  void add_pairing(const Pairing& pairing) {
    ForecastPairing known;
    known.id = pairing.id;
    known.scion = pairing.scion;
    known.rootstock = pairing.rootstock;
    known.weight = pairing.weight;
    known.want = std::max(0, pairing.want - wanted_.made(pairing));
    known.rootstocks = side_of(pairing, Side::rootstock);
    known.scions = side_of(pairing, Side::scion);
    if (known.rootstocks.empty() && known.scions.empty()) return;
    known.take = wanted_.take(pairing);
    known.grafts = std::max(1, wanted_.still(pairing));
    const auto length = std::chrono::ceil<std::chrono::days>(plan_.regime_length);
    known.last_on = pairing.ready_on.value_or(plan_.season.ready_on) +
                    std::chrono::days(plan_.season.window_days) - length;
    for (const PlannedGraft& planned : book_.all<PlannedGraft>()) {
      if (planned.pairing != pairing.id) continue;
      known.planned_on = planned.graft_on;
      known.promised = planned.probability;
    }
    request().pairings.push_back(std::move(known));
  }

  const Book& book_;
  sensors::Instant now_;
  PlanRequest plan_;
  GraftsWanted wanted_;
  BookForecast told_{};
  std::vector<const Pairing*> asked_{};
  std::vector<SownSeed> seeds_{};
};

}  // namespace

BookForecast forecast_request(const Book& book, sensors::Instant now, const daemon::Regime& regime,
                              const std::vector<std::string>& only) {
  return Gatherer(book, now, regime).gather(only);
}

}  // namespace takehold::client
