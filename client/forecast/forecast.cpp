#include "client/forecast/forecast.hpp"

#include <algorithm>

#include "client/forecast/best_day.hpp"
#include "client/forecast/season_outcome.hpp"

namespace takehold::client {
namespace {

constexpr double kSeen = 0.05;  // pairs expected that make a day worth a line

int count_at(const PairSpread& spread, double share) {
  double sum = 0;
  for (std::size_t k = 0; k < spread.size(); ++k) {
    sum += spread[k];
    if (sum >= share - 1e-9) return static_cast<int>(k);
  }
  return static_cast<int>(spread.size()) - 1;
}

CountOutlook outlook_of(const PairSpread& spread) {
  CountOutlook outlook{count_at(spread, 0.1), 0, count_at(spread, 0.9)};
  for (std::size_t k = 0; k < spread.size(); ++k) {
    outlook.mean += spread[k] * static_cast<double>(k);
  }
  return outlook;
}

std::vector<std::string> tray_ids(const ForecastRequest& request,
                                  const std::vector<TrayShare>& side) {
  std::vector<std::string> ids;
  for (const TrayShare& share : side) ids.push_back(request.trays[share.tray].id);
  return ids;
}

class Teller {
 public:
  Teller(const ForecastRequest& request, const PairTable& table, const ForecastPairing& pairing)
      : request_(request), table_(table), pairing_(pairing), allowed_(work_days(request)) {}

  PairingForecast tell() {
    told_.id = pairing_.id;
    told_.scion = pairing_.scion;
    told_.rootstock = pairing_.rootstock;
    told_.want = pairing_.want;
    told_.last_on = pairing_.last_on;
    told_.planned_on = pairing_.planned_on;
    told_.promised = pairing_.promised;
    told_.rootstock_trays = tray_ids(request_, pairing_.rootstocks);
    told_.scion_trays = tray_ids(request_, pairing_.scions);
    tell_best();
    tell_days();
    tell_finished();
    return std::move(told_);
  }

 private:
  Day on(int day) const { return request_.today + std::chrono::days(day); }

  void tell_best() {
    chances_.assign(allowed_.size(), 0);
    PairSpread spread;
    const double part = 1.0 / request_.seasons;
    for (int season = 0; season < request_.seasons; ++season) {
      const auto pairs = table_.of(season);
      const auto best = best_day(pairs, allowed_);
      const std::size_t most = best ? pairs[static_cast<std::size_t>(*best)] : 0;
      if (spread.size() <= most) spread.resize(most + 1);
      spread[most] += part;
      (best ? chances_[static_cast<std::size_t>(*best)] : told_.never) += part;
    }
    told_.matched_pairs = outlook_of(spread);
    if (told_.never >= 1 - 0.5 * part) return;
    const DayRange range = day_range(chances_);
    told_.graft_on = DayOutlookRange{on(range.p10), on(range.p50), on(range.p90)};
  }

  void tell_days() {
    std::size_t last = 0;
    for (int day = 0; day < request_.days; ++day) {
      const auto at = static_cast<std::size_t>(day);
      DayOutlook outlook{on(day),      allowed_[at],          0,
                         chances_[at], table_.rootstocks[at], table_.scions[at]};
      for (int season = 0; season < request_.seasons; ++season) {
        outlook.matched_pairs += table_.of(season)[at];
      }
      outlook.matched_pairs /= request_.seasons;
      if (outlook.matched_pairs >= kSeen || outlook.best > 0) last = at;
      told_.by_day.push_back(outlook);
    }
    told_.by_day.resize(last + 1);
  }

  void tell_finished() {
    const SeasonOutcome outcome(request_, pairing_, table_);
    told_.probability = outcome.probability();
    told_.useful = outcome.useful();
    told_.finished = outcome.finished();
  }

  const ForecastRequest& request_;
  const PairTable& table_;
  const ForecastPairing& pairing_;
  std::vector<bool> allowed_;
  std::vector<double> chances_{};
  PairingForecast told_{};
};

}  // namespace

std::vector<PairingForecast> forecast(const ForecastRequest& request, const ForecastWork& work) {
  std::vector<PairingForecast> told(request.pairings.size());
  const DrawnTrays drawn(request);
  std::optional<Adviser> adviser;
  if (work.advice) adviser.emplace(request);
  const auto grown = grown_trays(request, drawn);
  for (const Cohort& cohort : cohorts_of(request)) {
    const auto tables = pair_tables(request, cohort, grown);
    for (std::size_t i = 0; i < cohort.size(); ++i) {
      told[cohort[i]] = Teller(request, tables[i], request.pairings[cohort[i]]).tell();
    }
    if (!adviser) continue;
    for (const std::size_t pairing : cohort) {
      told[pairing].advice = adviser->advise(cohort, pairing);
    }
  }
  return told;
}

}  // namespace takehold::client
