#include "client/plan/chamber_plan.hpp"

#include <algorithm>
#include <cstdlib>
#include <set>

#include "client/plan/chamber_collisions.hpp"
#include "client/plan/chamber_members.hpp"
#include "client/plan/chamber_moves.hpp"
#include "client/plan/work_days.hpp"

namespace takehold::client {
namespace {

using sensors::Days;

constexpr int kFarthest = 28;  // days: a season can be moved by four weeks, not by more

int number_of(Day day) {
  return static_cast<int>(day.time_since_epoch().count());
}
Day day_of(int number) {
  return Day(Days(number));
}
sensors::Instant noon_of(int number) {
  return sensors::Instant(Days(number) + std::chrono::hours(12));
}
int whole_days(std::chrono::minutes length) {
  return static_cast<int>(std::chrono::ceil<Days>(length).count());
}

class Placing {
 public:
  Placing(const PlanRequest& request, const SeasonPlan& plan, bool pools_together)
      : request_(request), plan_(plan), members_(members_of(plan, pools_together)) {
    describe_room();
    for (const Members& members : members_) add_batch(members);
    for (const BatchInside& inside : request.inside) add_guest(inside);
    if (!batches_.empty()) choice_ = choose_days(room_, batches_);
  }

  const RoomCost& cost() const { return choice_.cost; }

  ChamberPlan place(SeasonPlan& plan) const {
    ChamberPlan chamber;
    chamber.places = room_.places;
    chamber.trays = trays_of(room_);
    chamber.grafts_per_day = room_.grafts_per_day;
    if (batches_.empty()) return chamber;
    chamber.is_exact = choice_.is_exact;
    for (std::size_t i = 0; i < batches_.size(); ++i) {
      for (const std::size_t member : members_[i]) {
        plan.pairings[member].graft_on = day_of(choice_.days[i]);
      }
      if (choice_.days[i] != batches_[i].best) add_moves(i, choice_.days[i], chamber.moved);
    }
    chamber.days = days_inside(choice_.days);
    chamber.collisions = collisions_of(room_, batches_, choice_.days);
    if (!choice_.cost.fits()) resolve(chamber);
    return chamber;
  }

 private:
  void describe_room() {
    room_.stay_days = whole_days(request_.chamber_length);
    room_.cells_per_tray = std::max(1, request_.season.cells_per_tray);
    room_.places = request_.season.places;
    room_.grafts_per_day = request_.season.grafts_per_day;
    if (!request_.regime) return;
    for (int days = 0; days < room_.stay_days; ++days) {
      room_.apart.push_back(
          colliding_hours({*request_.regime, noon_of(0)}, {*request_.regime, noon_of(days)}));
    }
  }

  void add_batch(const Members& members) {
    RoomBatch batch;
    batch.best = number_of(*plan_.pairings[members.front()].graft_on);
    const int window = request_.season.window_days;
    int last = batch.best + window;
    for (const std::size_t member : members) {
      batch.names.push_back(name_of(plan_.pairings[member]));
      batch.grafts += plan_.pairings[member].grafts;
      const Day ready = request_.pairings[member].ready_on.value_or(request_.season.ready_on);
      const int in_time = number_of(ready) - length_ + window;
      if (batch.best <= in_time) last = std::min(last, in_time);
    }
    WiderDays wider;
    for (int day = batch.best - kFarthest; day <= batch.best + kFarthest; ++day) {
      const bool in_window = batch.best - window <= day && day <= last;
      const bool is_free = is_work_day(request_.season, day_of(day));
      if (day == batch.best || (in_window && is_free && day_of(day) >= request_.made_on)) {
        batch.days.push_back(day);
      } else if (in_window ? is_there(day) : is_free && can_be_sown(members, day - batch.best)) {
        wider.days.push_back(day);
      }
    }
    batches_.push_back(std::move(batch));
    wider_.push_back(std::move(wider));
  }

  // Not a free day, but not away either.
  bool is_there(int day) const {
    Season any_day = request_.season;
    any_day.free_days.clear();
    return day_of(day) >= request_.made_on && is_work_day(any_day, day_of(day));
  }

  bool can_be_sown(const Members& members, int later) const {
    const auto stays = [&](const ProposedSowing& sowing) {
      return sowing.sowing || sowing.sow_on + Days(later) < request_.made_on;
    };
    return std::none_of(members.begin(), members.end(), [&](std::size_t member) {
      const PlannedPairing& pairing = plan_.pairings[member];
      const auto &below = pairing.rootstock_sowings, &above = pairing.scion_sowings;
      return std::any_of(below.begin(), below.end(), stays) ||
             std::any_of(above.begin(), above.end(), stays);
    });
  }

  void add_guest(const BatchInside& inside) {
    const ChamberStay stay{inside.regime, inside.entered_at, inside.events};
    RoomGuest guest{inside.id, inside.grafts, 0, {}};
    guest.until =
        whole_days(std::chrono::ceil<std::chrono::minutes>(leaves_at(stay).time_since_epoch()));
    if (day_of(guest.until) <= request_.made_on) return;  // asked out of it already
    if (request_.regime) {
      for (int day = number_of(request_.made_on); day < guest.until; ++day) {
        guest.beside[day] = colliding_hours(stay, {*request_.regime, noon_of(day)});
      }
    }
    room_.guests.push_back(std::move(guest));
  }

  void add_moves(std::size_t i, int day, std::vector<GraftMove>& moves) const {
    for (const std::string& name : batches_[i].names) {
      GraftMove move;
      move.pairing = name;
      move.from = day_of(batches_[i].best);
      move.to = day_of(day);
      move.is_free = is_work_day(request_.season, move.to);
      if (std::abs(day - batches_[i].best) > request_.season.window_days) {
        move.ready_on = move.to + Days(length_);
      }
      moves.push_back(std::move(move));
    }
  }

  std::vector<ChamberDay> days_inside(const std::vector<int>& days) const {
    std::set<int> changes;
    for (const int day : days) changes.insert({day, day + room_.stay_days});
    for (const RoomGuest& guest : room_.guests) changes.insert(guest.until);
    std::vector<ChamberDay> list;
    for (const int day : changes) {
      const RoomUse use = use_on(room_, batches_, days, day);
      ChamberDay line{day_of(day), 0, use.plants, use.trays};
      for (std::size_t i = 0; i < days.size(); ++i) {
        if (days[i] == day) line.grafts += batches_[i].grafts;
      }
      list.push_back(line);
    }
    return list;
  }

  // Days within the windows are found by the next plan itself.
  void resolve(ChamberPlan& chamber) const {
    const RoomMoves moves = moves_to_fit(room_, batches_, wider_, choice_.days);
    chamber.is_resolvable = moves.cost.fits();
    for (std::size_t i = 0; i < batches_.size(); ++i) {
      const auto& days = batches_[i].days;
      if (std::find(days.begin(), days.end(), moves.days[i]) != days.end()) continue;
      add_moves(i, moves.days[i], chamber.resolve);
    }
  }

  const PlanRequest& request_;
  const SeasonPlan& plan_;
  const int length_ = whole_days(request_.regime_length);
  std::vector<Members> members_;
  Room room_;
  std::vector<RoomBatch> batches_;
  std::vector<WiderDays> wider_;
  RoomChoice choice_;
};

}  // namespace

// A pool too large for one day is grafted on several, if that helps.
void place_in_chamber(const PlanRequest& request, SeasonPlan& plan) {
  const Placing together(request, plan, true);
  if (together.cost().fits()) {
    plan.chamber = together.place(plan);
    return;
  }
  const Placing apart(request, plan, false);
  plan.chamber =
      (apart.cost().trouble() < together.cost().trouble() ? apart : together).place(plan);
}

}  // namespace takehold::client
