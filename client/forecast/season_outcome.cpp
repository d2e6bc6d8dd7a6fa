#include "client/forecast/season_outcome.hpp"

#include <algorithm>

#include "client/plan/take_tail.hpp"
#include "client/plan/work_days.hpp"

namespace takehold::client {
namespace {

std::vector<std::uint16_t> most_in_time(const ForecastRequest& request,
                                        const ForecastPairing& pairing, const PairTable& table) {
  const auto allowed = work_days(request);
  const auto in_time = std::clamp<long>((pairing.last_on - request.today).count() + 1, 0L,
                                        static_cast<long>(allowed.size()));
  std::vector<std::uint16_t> most;
  for (int season = 0; season < table.seasons(); ++season) {
    most.push_back(0);
    for (long day = 0; day < in_time; ++day) {
      const auto at = static_cast<std::size_t>(day);
      if (allowed[at]) most.back() = std::max(most.back(), table.of(season)[at]);
    }
  }
  return most;
}

}  // namespace

std::vector<bool> work_days(const ForecastRequest& request) {
  std::vector<bool> allowed;
  for (int day = 0; day < request.days; ++day) {
    allowed.push_back(is_work_day(request.season, request.today + std::chrono::days(day)));
  }
  return allowed;
}

SeasonOutcome::SeasonOutcome(const ForecastRequest& request, const ForecastPairing& pairing,
                             const PairTable& table)
    : SeasonOutcome(pairing, most_in_time(request, pairing, table)) {}

SeasonOutcome::SeasonOutcome(const ForecastPairing& pairing, std::vector<std::uint16_t> pairs)
    : pairing_(pairing), pairs_(std::move(pairs)) {
  for (const std::uint16_t made : pairs_) {
    if (spread_.size() <= made) spread_.resize(made + std::size_t{1});
    spread_[made] += 1.0 / static_cast<double>(pairs_.size());
  }
}

double SeasonOutcome::probability() const {
  return probability_of(pairing_.want);
}

double SeasonOutcome::probability_of(int want) const {
  return PairChance(pairing_.take, want, pairing_.grafts).probability(spread_, pairing_.grafts);
}

double SeasonOutcome::useful() const {
  return PairChance(pairing_.take, pairing_.want, pairing_.grafts).useful(spread_, pairing_.grafts);
}

CountOutlook SeasonOutcome::finished() const {
  return PairChance(pairing_.take, pairing_.want, pairing_.grafts)
      .finished(spread_, pairing_.grafts);
}

std::vector<double> SeasonOutcome::useful_by_season() const {
  const auto useful = useful_takes(pairing_.take, pairing_.want, pairing_.grafts);
  std::vector<double> by_season;
  for (const std::uint16_t made : pairs_) {
    by_season.push_back(useful[std::min(useful.size() - 1, std::size_t{made})]);
  }
  return by_season;
}

}  // namespace takehold::client
