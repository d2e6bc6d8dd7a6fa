// The plan's grafts in the healing chamber: days, room, and what does not go together.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "daemon/healing/regime.hpp"
#include "sensors/quantity/calendar.hpp"

namespace takehold::client {

/// A batch that stands in the chamber on the day the plan is made.
struct BatchInside {
  std::string id{};  ///< "G7"
  int grafts = 0;    ///< living
  sensors::Instant entered_at{};
  daemon::Regime regime{};
  std::vector<daemon::ManualEvent> events{};
};

/// A graft day other than the one on which a pairing's stems match best.
struct GraftMove {
  std::string pairing{};  ///< by id, else names
  sensors::Day from{};
  sensors::Day to{};
  /// Nothing: within the window, its sowings stay. Else the day it is then ready, and its sowings
  /// move with it: what `ready_on` of its [[pairing]] should say.
  std::optional<sensors::Day> ready_on{};
  bool is_free = true;  ///< false: not one of the grower's free days
};

/// The chamber in the night after a day.
struct ChamberDay {
  sensors::Day on{};
  int grafts = 0;  ///< made on that day
  int plants = 0;  ///< inside
  int trays = 0;   ///< a begun one counts whole
};

struct ChamberCollision {
  std::string code{};                ///< many-grafts chamber-full air-collides light-differs
  sensors::Day on{};                 ///< when it begins
  std::vector<std::string> about{};  ///< pairings, and batches inside by number
  std::string text{};
};

struct ChamberPlan {
  std::optional<int> places{};
  std::optional<int> trays{};
  std::optional<int> grafts_per_day{};
  std::vector<ChamberDay> days{};  ///< those on which something enters or leaves
  std::vector<GraftMove> moved{};  ///< within their windows, and in the plan already
  std::vector<ChamberCollision> collisions{};
  std::vector<GraftMove> resolve{};  ///< with these no collision is left (light aside)
  bool is_resolvable = true;  ///< false: `resolve` lessens what is wrong, and something stays
  bool is_exact = true;       ///< the days are the best there are, not the best found in time
};

struct PlanRequest;
struct SeasonPlan;

/// Chooses each pairing's graft day within its window: so that no more is grafted in a day than can
/// be, and the batches find room and agree in the air they ask for; else as near to that as can be.
/// Of equal choices, the one that moves the fewest grafts the least. Puts the days into the
/// pairings, and the rest into `plan.chamber`. Sowings, counts and chances stay as they are: they
/// stand for the best day of the window.
void place_in_chamber(const PlanRequest& request, SeasonPlan& plan);

/// {places, trays, grafts_per_day, days:[{on,grafts,plants,trays}], moved:[..], collisions:[{code,
/// on,about,text}], resolve:[{pairing,from,to,ready_on,is_free}], is_resolvable, is_exact}
void to_json(nlohmann::json& json, const ChamberPlan& plan);

}  // namespace takehold::client
