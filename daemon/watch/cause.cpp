#include "daemon/watch/cause.hpp"

#include <algorithm>

#include "sensors/air/psychrometrics.hpp"

namespace takehold::daemon {

namespace {

constexpr double kHasty = 1.6;  // times the steepest usual slope
// Where the devices never let go, their usual slopes say nothing of how fast the chamber dries and
// cools by itself. Closed ones seldom lose more than this by themselves; opened ones lose more.
constexpr double kDriesPctMin = 1.6;  // of saturation, a minute
constexpr double kHastyPctMin = 0.8;
constexpr double kDriedPct = 3;  // points lost besides the warmth, that tell of a door
constexpr double kCooledK = 0.7;
// Of 1 K lost alone the humidity gains what the water loses on cold walls, or less. Through a door
// goes water at least twice as much as that.
constexpr double kDoorShare = 1.7;
constexpr double kDoorPct = 1.0;

struct View {
  const Motion& warmth;
  const Motion& water;
  const Usual& usual_warmth;
  const Usual& usual_water;

  /// So many percent of saturation a minute, in Pa a second.
  double pa_s(double pct_min) const {
    const auto now = sensors::Celsius::degc(warmth.level);
    return pct_min / 6000 * sensors::saturation_vapour_pressure(now).pa();
  }
};

/// Points of relative humidity that the change of one thing alone made.
struct Change {
  double by_warmth, by_water;
};

Change change_from(double degc, double pa, const View& view) {
  const auto vapour = sensors::Pressure::pa(pa);
  const auto now = sensors::Celsius::degc(view.warmth.level);
  return {sensors::relative_humidity(now, vapour).pct() -
              sensors::relative_humidity(sensors::Celsius::degc(degc), vapour).pct(),
          100 * (view.water.level - pa) / sensors::saturation_vapour_pressure(now).pa()};
}

bool is_warm(const View& view) {
  return view.warmth.level > view.usual_warmth.above();
}

bool is_cold(const View& view) {
  return view.warmth.level < view.usual_warmth.below();
}

}  // namespace

Haste haste_of(const AirTrends& air) {
  const auto& warmth = air.motion(AirQuantity::temperature);
  const auto& water = air.motion(AirQuantity::vapour);
  const auto& damp = air.motion(AirQuantity::humidity);
  const Usual& usual_warmth = air.usual(AirQuantity::temperature);
  const Usual& usual_water = air.usual(AirQuantity::vapour);
  const Usual& usual_damp = air.usual(AirQuantity::humidity);
  if (!warmth || !water || !damp || !usual_water.knows() || !usual_damp.knows()) return Haste::none;
  // A heater moves vapour pressure and humidity apart; air from the room, or a spray, moves both.
  const double least = View{*warmth, *water, usual_warmth, usual_water}.pa_s(kHastyPctMin);
  const double least_damp = kHastyPctMin / 60;
  if (-water->slope > std::max(least, -kHasty * usual_water.fall()) &&
      -damp->slope > std::max(least_damp, -kHasty * usual_damp.fall())) {
    return Haste::loss;
  }
  if (water->slope > std::max(least, kHasty * usual_water.rise()) &&
      damp->slope > std::max(least_damp, kHasty * usual_damp.rise())) {
    return Haste::gain;
  }
  return Haste::none;
}

namespace {

/// While the usual is not known yet: by what changed within the last quarter of an hour.
Cause early_cause(Trouble trouble, const AirTrends& air, const View& view) {
  const auto degc = air.path(AirQuantity::temperature).earlier();
  const auto pa = air.path(AirQuantity::vapour).earlier();
  if (!degc || !pa) return Cause::unknown;
  const auto change = change_from(*degc, *pa, view);
  const double cooled = *degc - view.warmth.level;
  switch (trouble) {
    case Trouble::hot:
      return Cause::warming;
    case Trouble::damp:
      return change.by_warmth > change.by_water ? Cause::cooling : Cause::saturated;
    case Trouble::cold:
      return change.by_warmth + change.by_water < -kDriedPct ? Cause::opened : Cause::cooling;
    case Trouble::dry:
      if (-change.by_warmth > -change.by_water) return Cause::warming;
      return cooled > kCooledK ? Cause::opened : Cause::drying;
  }
  return Cause::unknown;
}

/// Warmth alone made it dry, since the usual and in the last minutes.
bool warmth_did_it(const Change& change, const AirTrends& air, const View& view) {
  if (!is_warm(view) || change.by_warmth > change.by_water) return false;
  const auto degc = air.path(AirQuantity::temperature).lately();
  const auto pa = air.path(AirQuantity::vapour).lately();
  if (!degc || !pa) return true;
  const auto lately = change_from(*degc, *pa, view);
  return lately.by_water > 2 * std::min(0.0, lately.by_warmth) - kDoorPct / 2;
}

/// Warmth and water both went, and more water than the cold takes.
bool both_went(const Change& change, const View& view) {
  return is_cold(view) && -change.by_water > kDoorShare * change.by_warmth &&
         change.by_water + change.by_warmth < -kDoorPct;
}

Cause cause_of_dry(const Change& change, const AirTrends& air, const View& view) {
  if (warmth_did_it(change, air, view)) return Cause::warming;
  const double fall = air.path(AirQuantity::vapour).steepest(true);
  const double by_itself = -kHasty * view.usual_water.fall();
  if (fall > std::max(by_itself, view.pa_s(kDriesPctMin))) return Cause::opened;
  if (!is_cold(view)) return Cause::drying;
  if (!both_went(change, view)) return Cause::cooling;
  return fall > by_itself ? Cause::opened : Cause::drying;
}

}  // namespace

Cause cause_of(Trouble trouble, const AirTrends& air) {
  const auto& warmth = air.motion(AirQuantity::temperature);
  const auto& water = air.motion(AirQuantity::vapour);
  if (!warmth || !water) return Cause::unknown;
  const Usual& usual_warmth = air.usual(AirQuantity::temperature);
  const Usual& usual_water = air.usual(AirQuantity::vapour);
  const View view{*warmth, *water, usual_warmth, usual_water};
  if (!usual_warmth.knows() || !usual_water.knows()) return early_cause(trouble, air, view);
  const auto change = change_from(usual_warmth.mean(), usual_water.mean(), view);
  switch (trouble) {
    case Trouble::hot:
      return Cause::warming;
    case Trouble::damp:
      return change.by_warmth > change.by_water && is_cold(view) ? Cause::cooling
                                                                 : Cause::saturated;
    case Trouble::cold:
      return both_went(change, view) ? Cause::opened : Cause::cooling;
    case Trouble::dry:
      return cause_of_dry(change, air, view);
  }
  return Cause::unknown;
}

}  // namespace takehold::daemon
