// What a forecast is made from: the trays as they stand today, and who is to be grafted from them.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "client/growth/lot_posterior.hpp"
#include "client/growth/seedling_draws.hpp"
#include "client/season/place.hpp"
#include "client/season/season.hpp"
#include "client/takes/take_model.hpp"

namespace takehold::client {

/// One lot, what was seen of it and what that leaves to believe.
struct ForecastLot {
  std::string label{};
  std::string variety{};
  std::shared_ptr<const LotSeen> seen{};            ///< never null
  std::shared_ptr<const LotPosterior> posterior{};  ///< never null
  int on_hand = 0;                                  ///< seeds left
};

/// One sowing, done or still to be done.
struct ForecastTray {
  std::string id{};                        ///< "S3"; of one that is only planned, its line
  std::size_t lot = 0;                     ///< a place in ForecastRequest::lots
  SowingSeen seen{};                       ///< its course goes on over every day that is looked at
  std::vector<sensors::Celsius> hourly{};  ///< what that course is made of
  TrayState state{};
  Age age{};  ///< at noon of today; below 0: sown only then
  Day sown_on{};
  std::string bench{};  ///< where it stands
};

/// The part of a tray's seedlings that one pairing may use.
struct TrayShare {
  std::size_t tray = 0;
  double from = 0, to = 1;
};

struct ForecastPairing {
  std::string id{};
  std::string scion{}, rootstock{};
  int want = 0;
  double weight = 1;
  std::vector<TrayShare> rootstocks{}, scions{};
  TakeBelief take{Chance{}};
  int grafts = 1;                    ///< the most that will be made
  Day last_on{};                     ///< grafted later they are not ready in time
  std::optional<Day> planned_on{};   ///< of the accepted plan
  std::optional<double> promised{};  ///< the chance it promised
};

struct ForecastRequest {
  Day today{};
  int days = 45;  ///< that are looked at, today the first
  int seasons = 1000;
  std::uint64_t seed = 1;
  Season season{};  ///< free days, tolerance, confidence
  std::vector<Bench> benches{};
  std::vector<ForecastLot> lots{};
  std::vector<ForecastTray> trays{};
  /// Those that use exactly the same rootstock trays whole share their stems by weight.
  std::vector<ForecastPairing> pairings{};
};

}  // namespace takehold::client
