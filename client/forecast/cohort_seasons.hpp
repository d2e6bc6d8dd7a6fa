// The pairs that can be made each day of every simulated season.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "client/forecast/drawn_trays.hpp"
#include "client/forecast/tray_growth.hpp"

namespace takehold::client {

/// Pairings that share their rootstocks' stems, or one alone: places in ForecastRequest::pairings.
using Cohort = std::vector<std::size_t>;
std::vector<Cohort> cohorts_of(const ForecastRequest& request);

/// Pairs of one pairing, by season and day. Means over the seasons beside it.
class PairTable {
 public:
  PairTable(int seasons, int days)
      : days_(static_cast<std::size_t>(days)),
        pairs_(static_cast<std::size_t>(seasons) * days_),
        rootstocks(days_),
        scions(days_) {}

  std::span<std::uint16_t> of(int season) {
    return {pairs_.data() + static_cast<std::size_t>(season) * days_, days_};
  }
  std::span<const std::uint16_t> of(int season) const {
    return {pairs_.data() + static_cast<std::size_t>(season) * days_, days_};
  }
  int days() const { return static_cast<int>(days_); }
  int seasons() const { return static_cast<int>(pairs_.size() / days_); }

 private:
  std::size_t days_;
  std::vector<std::uint16_t> pairs_;

 public:
  std::vector<double> rootstocks, scions;  ///< graftable stems by day, on average
};

/// The growth of every tray of the request under its own course.
std::vector<TrayGrowth> grown_trays(const ForecastRequest& request, const DrawnTrays& drawn);

/// One side's stems on one day, thinnest first.
void side_on(std::span<const TrayShare> side, const std::vector<TrayGrowth>& grown, int season,
             int day, std::vector<DayStem>& stems);

/// One table a pairing of the cohort. A pairing alone gets every pair that can be made; those that
/// share rootstocks get theirs by weight, none more than its grafts.
std::vector<PairTable> pair_tables(const ForecastRequest& request, const Cohort& cohort,
                                   const std::vector<TrayGrowth>& grown);

}  // namespace takehold::client
