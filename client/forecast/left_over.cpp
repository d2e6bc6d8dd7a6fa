#include "client/forecast/left_over.hpp"

#include <algorithm>

#include "client/match/matching.hpp"

namespace takehold::client {
namespace {

using sensors::Millimetres;

struct LeftSide {
  std::span<const LeftStem> stems;
  std::vector<LeftOverAdvice> advice{};
  std::vector<bool> paired{};

  explicit LeftSide(std::span<const LeftStem> left)
      : stems(left), advice(left.size()), paired(left.size()) {}
};

Micrometres after(const LeftStem& stem, int days, bool cooler) {
  const auto a_day = cooler ? stem.cooler_a_day : stem.heat_a_day;
  const auto heat = sensors::ThermalTime::degc_days(a_day.degc_days() * days);
  return later_diameter(Millimetres::um(stem.um), heat, stem.vigour).um();
}

bool fits_a_clip(Micrometres um) {
  const Graftable graftable;
  return um >= graftable.thinnest.um() && um <= graftable.thickest.um();
}

/// The stems still without a partner that can be grafted on that day.
struct OnDay {
  std::vector<std::size_t> places{};
  std::vector<Micrometres> um{};

  OnDay(const LeftSide& side, int days, bool cooler) {
    for (std::size_t i = 0; i < side.stems.size(); ++i) {
      if (side.paired[i]) continue;
      const Micrometres then = after(side.stems[i], days, cooler);
      if (!fits_a_clip(then)) continue;
      places.push_back(i);
      um.push_back(then);
    }
  }
};

void pair_up(LeftSide& side, std::size_t place, LeftOverAdvice advice) {
  advice.days_to_too_thick = side.advice[place].days_to_too_thick;
  side.advice[place] = advice;
  side.paired[place] = true;
}

struct Cooled {
  bool rootstocks = false, scions = false;
};

void match_on(LeftSide& below, LeftSide& above, int days, Cooled cooled,
              const Tolerance& tolerance) {
  const OnDay roots(below, days, cooled.rootstocks);
  const OnDay scions(above, days, cooled.scions);
  const auto fate = [](bool is_cooled) {
    return is_cooled ? LeftOverFate::cooler : LeftOverFate::wait;
  };
  for (const StemPair& pair : match_stems(roots.um, scions.um, tolerance).pairs) {
    const std::size_t root = roots.places[pair.rootstock], scion = scions.places[pair.scion];
    pair_up(below, root,
            {fate(cooled.rootstocks), days, scion, roots.um[pair.rootstock], std::nullopt});
    pair_up(above, scion, {fate(cooled.scions), days, root, scions.um[pair.scion], std::nullopt});
  }
}

void note_when_too_thick(LeftSide& side) {
  const Micrometres thickest = Graftable{}.thickest.um();
  for (std::size_t i = 0; i < side.stems.size(); ++i) {
    for (int day = 0; day <= kLeftOverDays; ++day) {
      if (after(side.stems[i], day, false) <= thickest) continue;
      side.advice[i].days_to_too_thick = day;
      break;
    }
  }
}

}  // namespace

LeftOverAnswer advise_left_over(std::span<const LeftStem> rootstocks,
                                std::span<const LeftStem> scions, const Tolerance& tolerance) {
  LeftSide below(rootstocks), above(scions);
  note_when_too_thick(below);
  note_when_too_thick(above);
  for (int day = 1; day <= kLeftOverDays; ++day) match_on(below, above, day, {}, tolerance);
  for (int day = 1; day <= kLeftOverDays; ++day) {
    match_on(below, above, day, {true, false}, tolerance);
    match_on(below, above, day, {false, true}, tolerance);
  }
  return {std::move(below.advice), std::move(above.advice)};
}

}  // namespace takehold::client
