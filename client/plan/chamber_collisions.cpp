#include "client/plan/chamber_collisions.hpp"

#include <fmt/format.h>

#include <map>

namespace takehold::client {
namespace {

using Names = std::vector<std::string>;

sensors::Day day_of(int number) {
  return sensors::Day(sensors::Days(number));
}

constexpr std::size_t kFew = 2;  // names are told, of more only how many

std::string joined(const Names& names) {
  if (names.size() > kFew) return fmt::format("the {} pairings", names.size());
  std::string text;
  for (const std::string& name : names) text += (text.empty() ? "" : ", ") + name;
  return text;
}

class Telling {
 public:
  Telling(const Room& room, const std::vector<RoomBatch>& batches, const std::vector<int>& days)
      : room_(room), batches_(batches), days_(days) {
    for (std::size_t i = 0; i < days.size(); ++i) {
      Names& names = grafted_[days[i]];
      names.insert(names.end(), batches[i].names.begin(), batches[i].names.end());
      grafts_[days[i]] += batches[i].grafts;
    }
  }

  std::vector<ChamberCollision> tell() {
    for (const auto& [day, grafts] : grafts_) tell_hands(day, grafts);
    tell_room();
    for (const auto& [day, names] : grafted_) {
      for (const auto& [later, others] : grafted_) {
        const auto apart = static_cast<std::size_t>(later - day);
        if (later <= day || apart >= room_.apart.size()) continue;
        tell_bands(room_.apart[apart], later, names, others,
                   fmt::format("grafted on {}", sensors::to_string(day_of(day))));
      }
      for (const RoomGuest& guest : room_.guests) {
        const auto beside = guest.beside.find(day);
        if (beside == guest.beside.end()) continue;
        tell_bands(beside->second, day, {guest.name}, names, "inside");
      }
    }
    return std::move(list_);
  }

 private:
  void tell_hands(int day, int grafts) {
    if (!room_.grafts_per_day || grafts <= *room_.grafts_per_day) return;
    list_.push_back({"many-grafts", day_of(day), grafted_[day],
                     fmt::format("{} grafts on {}, {} a day are possible", grafts,
                                 sensors::to_string(day_of(day)), *room_.grafts_per_day)});
  }

  // The fullest day of each stretch that is too full.
  void tell_room() {
    if (!room_.places) return;
    std::optional<int> fullest;
    int most = 0, last = 0;
    for (const auto& [day, names] : grafted_) {
      if (fullest && day >= last + room_.stay_days) {
        tell_full(*fullest);
        fullest.reset();
        most = 0;
      }
      last = day;
      const RoomUse use = use_on(room_, batches_, days_, day);
      const int over = std::max(use.plants - *room_.places, use.trays - *trays_of(room_));
      if (over <= most) continue;
      most = over;
      fullest = day;
    }
    if (fullest) tell_full(*fullest);
  }

  void tell_full(int day) {
    const RoomUse use = use_on(room_, batches_, days_, day);
    Names inside;
    for (const auto& [other, names] : grafted_) {
      const bool is_in = other <= day && day < other + room_.stay_days;
      if (is_in) inside.insert(inside.end(), names.begin(), names.end());
    }
    for (const RoomGuest& guest : room_.guests) {
      if (day < guest.until) inside.push_back(guest.name);
    }
    const std::string on = sensors::to_string(day_of(day));
    list_.push_back({"chamber-full", day_of(day), inside,
                     use.plants > *room_.places
                         ? fmt::format("{} grafts at once from {}, the chamber has {} places",
                                       use.plants, on, *room_.places)
                         : fmt::format("{} trays at once from {}, the chamber has room for {}",
                                       use.trays, on, *trays_of(room_))});
  }

  void tell_bands(const BandHours& hours, int from, const Names& older, const Names& younger,
                  const std::string& where) {
    Names about = older;
    about.insert(about.end(), younger.begin(), younger.end());
    const std::string who = fmt::format("{} ({}) and {} (grafted on {})", joined(older), where,
                                        joined(younger), sensors::to_string(day_of(from)));
    if (hours.air > 0) {
      list_.push_back({"air-collides", day_of(from), about,
                       fmt::format("{} ask for air that does not meet for {} h: the younger must "
                                   "stay closed while the older should be opened",
                                   who, hours.air)});
    }
    if (hours.light > 0) {
      list_.push_back({"light-differs", day_of(from), about,
                       fmt::format("{} ask for different light for {} h: hang a cloth over the "
                                   "younger ones' trays",
                                   who, hours.light)});
    }
  }

  const Room& room_;
  const std::vector<RoomBatch>& batches_;
  const std::vector<int>& days_;
  std::map<int, Names> grafted_;
  std::map<int, int> grafts_;
  std::vector<ChamberCollision> list_;
};

}  // namespace

std::vector<ChamberCollision> collisions_of(const Room& room, const std::vector<RoomBatch>& batches,
                                            const std::vector<int>& days) {
  return Telling(room, batches, days).tell();
}

}  // namespace takehold::client
