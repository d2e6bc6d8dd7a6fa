#include "client/command/match_left_over.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "client/command/graft.hpp"
#include "client/command/lot_seen.hpp"
#include "client/forecast/left_over.hpp"
#include "client/growth/lot_posterior.hpp"

namespace takehold::client {
namespace {

using sensors::Celsius;
using sensors::ThermalTime;

constexpr auto kCooler = sensors::TemperatureSpan::kelvin(6);
constexpr Celsius kCoolest = Celsius::degc(12);  // common practice: tomato seedlings no colder

struct Pace {
  double vigour = 1;
  ThermalTime heat_a_day = growth_heat_per_day(Celsius::degc(22));
  ThermalTime cooler_a_day = growth_heat_per_day(Celsius::degc(22) - kCooler);
};

/// The next day's warmth where the sowing stands, and its lot's most likely vigour.
Pace pace_of(const Book& book, const Sowing& sowing, sensors::Instant now) {
  Pace pace;
  const LivedWarmth warmth = warmth_of(book, sowing, now);
  double heat = 0, cooler = 0;
  for (int hour = 0; hour < 24; ++hour) {
    const auto at = static_cast<std::size_t>(warmth.past_hours + hour);
    const Celsius air = warmth.hourly[std::min(at, warmth.hourly.size() - 1)];
    heat += growth_heat_per_day(air).degc_days() / 24;
    const Celsius cool = std::min(air, std::max(kCoolest, air - kCooler));
    cooler += growth_heat_per_day(cool).degc_days() / 24;
  }
  pace.heat_a_day = ThermalTime::degc_days(heat);
  pace.cooler_a_day = ThermalTime::degc_days(cooler);
  const auto lot = book.find<Lot>(sowing.lot);
  if (lot) {
    pace.vigour = std::exp(LotPosterior(lot_seen(book, *lot, now)).ln_vigour().quantile(0.5));
  }
  return pace;
}

class Paces {
 public:
  Paces(const Book& book, sensors::Instant now) : book_(book), now_(now) {}
  std::vector<LeftStem> stems(const StemSide& side, const std::vector<std::size_t>& places) {
    std::vector<LeftStem> stems;
    for (const std::size_t place : places) {
      const Pace& pace = of(sowing_of_seedling(side.names[place]));
      stems.push_back({side.stems[place], pace.vigour, pace.heat_a_day, pace.cooler_a_day});
    }
    return stems;
  }

 private:
  const Pace& of(const std::string& id) {
    const auto known = paces_.find(id);
    if (known != paces_.end()) return known->second;
    return paces_[id] = pace_of(book_, *book_.find<Sowing>(id), now_);
  }
  const Book& book_;
  sensors::Instant now_;
  std::map<std::string, Pace> paces_{};
};

std::string mm(Micrometres um) {
  return fmt::format("{:.2f} mm", static_cast<double>(um) / 1000.0);
}

std::string when(int days) {
  return days == 1 ? "tomorrow" : fmt::format("in {} days", days);
}

/// What is left of one side, as it is put into words.
struct Told {
  Side side;
  const std::vector<std::size_t>& own;
  const std::vector<std::size_t>& other;
  const StemSide& other_side;
  std::string nobody;  ///< why the other side has none left, where it has none
  bool may_come;       ///< seedlings of the other side are still to be measured

  std::string partner_name(std::size_t partner) const {
    const char* word = side == Side::rootstock ? "scion" : "rootstock";
    return other_side.names.empty() ? fmt::format("{} {}", word, other[partner] + 1)
                                    : other_side.names[other[partner]];
  }
};

std::string reason_to_discard(const LeftOverAdvice& advice, const Told& told) {
  const char* others = told.side == Side::rootstock ? "scion" : "rootstock";
  if (advice.days_to_too_thick == 0) return "too thick for any clip already";
  std::string reason = told.other.empty()
                           ? told.nobody
                           : fmt::format(
                                 "no {} that is left comes near enough within {} days, not even "
                                 "with one side cooler",
                                 others, kLeftOverDays);
  if (advice.days_to_too_thick) {
    reason += fmt::format("; too thick for a clip {}", when(*advice.days_to_too_thick));
  }
  return reason;
}

LeftOverLine line_of(const Told& told, std::size_t index, const LeftOverAdvice& advice) {
  LeftOverLine line;
  line.side = told.side;
  line.stem = told.own[index];
  if (advice.fate == LeftOverFate::discard) {
    const bool keeps = told.may_come && advice.days_to_too_thick != 0;
    line.what = keeps ? "later" : "discard";
    line.reason =
        keeps ? "seedlings for it are still to be measured" : reason_to_discard(advice, told);
    return line;
  }
  line.in_days = advice.in_days;
  line.partner = told.other[*advice.partner];
  line.then = advice.then;
  const std::string partner = told.partner_name(*advice.partner);
  if (advice.fate == LeftOverFate::cooler) {
    line.what = "cooler";
    line.reason =
        fmt::format("ahead; there about {} when {} has caught up", mm(*advice.then), partner);
  } else {
    line.what = advice.in_days == 1 ? "tomorrow" : "later";
    line.reason =
        fmt::format("about {} {}, with {}", mm(*advice.then), when(advice.in_days), partner);
  }
  return line;
}

/// Seedlings of the variety that stand and were never measured in full.
bool to_be_measured(const Book& book, const std::string& variety) {
  const auto sowings = eligible_sowings(book, variety);
  return std::any_of(sowings.begin(), sowings.end(),
                     [&](const Sowing& sowing) { return !state_of(book, sowing).measured; });
}

void add_lines(const Told& told, const std::vector<LeftOverAdvice>& advice, StemMatch& match) {
  for (std::size_t i = 0; i < advice.size(); ++i) {
    match.left_over.push_back(line_of(told, i, advice[i]));
  }
}

}  // namespace

void add_left_over(const Book& book, const LeftOverGroup& group, const Tolerance& tolerance,
                   sensors::Instant now, StemMatch& match) {
  Paces paces(book, now);
  const auto advice = advise_left_over(paces.stems(match.rootstocks, group.rootstocks),
                                       paces.stems(match.scions, group.scions), tolerance);
  bool all_served = true, scions_come = false, roots_come = false;
  for (const MatchShare& share : group.shares) {
    all_served = all_served && share.is_served();
    scions_come = scions_come || (!share.is_served() && to_be_measured(book, share.scion));
    roots_come = roots_come || to_be_measured(book, share.rootstock);
  }
  const char* spare = "all the grafts that are wanted are made; a spare until they are scored";
  add_lines({Side::rootstock, group.rootstocks, group.scions, match.scions,
             all_served ? spare : "no scion is left for it", scions_come},
            advice.rootstocks, match);
  add_lines({Side::scion, group.scions, group.rootstocks, match.rootstocks,
             "no rootstock is left for it", roots_come},
            advice.scions, match);
  for (const std::size_t scion : group.spare) {
    match.left_over.push_back({Side::scion, scion, "discard", {}, {}, {}, spare});
  }
}

void add_left_over_of_files(const Tolerance& tolerance, StemMatch& match) {
  const auto stems = [](const StemSide& side, const std::vector<std::size_t>& places) {
    const Pace average;
    std::vector<LeftStem> left;
    for (const std::size_t place : places) {
      left.push_back({side.stems[place], average.vigour, average.heat_a_day, average.cooler_a_day});
    }
    return left;
  };
  const auto& roots = match.matching.rootstocks_left_over;
  const auto& scions = match.matching.scions_left_over;
  const auto advice =
      advise_left_over(stems(match.rootstocks, roots), stems(match.scions, scions), tolerance);
  add_lines({Side::rootstock, roots, scions, match.scions, "no scion is left for it", false},
            advice.rootstocks, match);
  add_lines({Side::scion, scions, roots, match.rootstocks, "no rootstock is left for it", false},
            advice.scions, match);
}

}  // namespace takehold::client
