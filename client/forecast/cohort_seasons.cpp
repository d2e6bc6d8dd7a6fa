#include "client/forecast/cohort_seasons.hpp"

#include <algorithm>

#include "client/plan/pool_matching.hpp"

namespace takehold::client {
namespace {

bool is_whole(const TrayShare& share) {
  return share.from <= 0 && share.to >= 1;
}

bool same_rootstocks(const ForecastPairing& a, const ForecastPairing& b) {
  const auto same = [](const TrayShare& x, const TrayShare& y) {
    return x.tray == y.tray && is_whole(x) && is_whole(y);
  };
  return !a.rootstocks.empty() && std::equal(a.rootstocks.begin(), a.rootstocks.end(),
                                             b.rootstocks.begin(), b.rootstocks.end(), same);
}

// Matches one cohort's stems of one day after the other.
class DayMatcher {
 public:
  DayMatcher(const ForecastRequest& request, const Cohort& cohort,
             const std::vector<TrayGrowth>& grown)
      : request_(request),
        cohort_(cohort),
        grown_(grown),
        counter_(Tolerance::percent_of_mean(request.season.tolerance_pct),
                 static_cast<std::uint16_t>(Graftable{}.thickest.um())),
        pool_(counter_),
        scions_(cohort.size()) {}

  void match(int season, int day, std::vector<PairTable>& tables) {
    const auto at = static_cast<std::size_t>(day);
    take(first().rootstocks, season, day, rootstocks_);
    for (std::size_t i = 0; i < cohort_.size(); ++i) {
      if (rootstocks_.empty()) {
        scions_[i].clear();
      } else {
        take(request_.pairings[cohort_[i]].scions, season, day, scions_[i]);
      }
      tables[i].rootstocks[at] += static_cast<double>(rootstocks_.size()) / request_.seasons;
      tables[i].scions[at] += static_cast<double>(scions_[i].size()) / request_.seasons;
    }
    if (rootstocks_.empty()) return;
    if (cohort_.size() == 1) {
      const int pairs = counter_.count(rootstocks_, scions_.front());
      tables.front().of(season)[at] = static_cast<std::uint16_t>(pairs);
    } else {
      share(season, at, tables);
    }
  }

 private:
  const ForecastPairing& first() const { return request_.pairings[cohort_.front()]; }

  void take(std::span<const TrayShare> side, int season, int day,
            std::vector<std::uint16_t>& into) {
    side_on(side, grown_, season, day, stems_);
    into.clear();
    for (const DayStem stem : stems_) into.push_back(stem.um);
  }

  void share(int season, std::size_t day, std::vector<PairTable>& tables) {
    members_.clear();
    pooled_.clear();
    for (std::size_t i = 0; i < cohort_.size(); ++i) {
      const ForecastPairing& pairing = request_.pairings[cohort_[i]];
      members_.push_back({pairing.grafts, pairing.weight});
      for (const auto um : scions_[i]) pooled_.push_back({um, static_cast<std::uint16_t>(i)});
    }
    std::stable_sort(pooled_.begin(), pooled_.end());
    pool_.take(rootstocks_, pooled_, members_);
    const auto& pairs = pool_.pairs(static_cast<std::size_t>(season));
    for (std::size_t i = 0; i < cohort_.size(); ++i) {
      tables[i].of(season)[day] = static_cast<std::uint16_t>(pairs[i]);
    }
  }

  const ForecastRequest& request_;
  const Cohort& cohort_;
  const std::vector<TrayGrowth>& grown_;
  MatchCounter counter_;
  PoolMatching pool_;
  std::vector<DayStem> stems_{};
  std::vector<std::uint16_t> rootstocks_{};
  std::vector<std::vector<std::uint16_t>> scions_;
  std::vector<PoolMember> members_{};
  std::vector<PoolScion> pooled_{};
};

}  // namespace

std::vector<Cohort> cohorts_of(const ForecastRequest& request) {
  std::vector<Cohort> cohorts;
  for (std::size_t i = 0; i < request.pairings.size(); ++i) {
    const auto joins = [&](const Cohort& cohort) {
      return cohort.size() < kMostInPool &&
             same_rootstocks(request.pairings[cohort.front()], request.pairings[i]);
    };
    const auto found = std::find_if(cohorts.begin(), cohorts.end(), joins);
    if (found == cohorts.end()) {
      cohorts.push_back({i});
    } else {
      found->push_back(i);
    }
  }
  return cohorts;
}

std::vector<TrayGrowth> grown_trays(const ForecastRequest& request, const DrawnTrays& drawn) {
  std::vector<TrayGrowth> grown;
  for (std::size_t tray = 0; tray < request.trays.size(); ++tray) {
    const ForecastTray& what = request.trays[tray];
    grown.emplace_back(drawn, tray, *what.seen.course, what.age, request.days);
  }
  return grown;
}

void side_on(std::span<const TrayShare> side, const std::vector<TrayGrowth>& grown, int season,
             int day, std::vector<DayStem>& stems) {
  stems.clear();
  for (const TrayShare& share : side) grown[share.tray].stems_on(season, day, share, stems);
  std::sort(stems.begin(), stems.end());
}

std::vector<PairTable> pair_tables(const ForecastRequest& request, const Cohort& cohort,
                                   const std::vector<TrayGrowth>& grown) {
  std::vector<PairTable> tables(cohort.size(), PairTable(request.seasons, request.days));
  DayMatcher matcher(request, cohort, grown);
  for (int season = 0; season < request.seasons; ++season) {
    for (int day = 0; day < request.days; ++day) matcher.match(season, day, tables);
  }
  return tables;
}

}  // namespace takehold::client
