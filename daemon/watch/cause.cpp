#include "daemon/watch/cause.hpp"

#include "sensors/air/psychrometrics.hpp"

namespace takehold::daemon {

namespace {

constexpr double kHasty = 1.6;         // times the steepest usual slope
constexpr double kOpenedDry = 1.6;     // the same, of vapour pressure, for the cause
constexpr double kHastySlopeE = 0.05;  // Pa a second: below it no slope is hasty
constexpr double kHastySlopeT = 0.0006;
constexpr double kDriedPct = 3;  // points lost besides the warmth, that tell of a door
constexpr double kCooledK = 0.7;

struct View {
  const Motion& warmth;
  const Motion& water;
  const Usual& usual_warmth;
  const Usual& usual_water;
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

bool dries_too_fast(const View& view) {
  return view.water.slope < kOpenedDry * view.usual_water.fall() - kHastySlopeE;
}

bool cools_too_fast(const View& view) {
  return view.warmth.slope < kHasty * view.usual_warmth.fall() - kHastySlopeT;
}

bool is_warm(const View& view) {
  return view.warmth.level > view.usual_warmth.high();
}

bool is_cold(const View& view) {
  return view.warmth.level < view.usual_warmth.below();
}

/// Air that only cools keeps its water and its humidity rises; through a door both fall.
bool is_dry(const AirTrends& air) {
  const auto& motion = air.motion(AirQuantity::humidity);
  return motion && motion->level < air.usual(AirQuantity::humidity).below();
}

}  // namespace

bool is_hasty(const AirTrends& air) {
  const auto& warmth = air.motion(AirQuantity::temperature);
  const auto& water = air.motion(AirQuantity::vapour);
  const Usual& usual_warmth = air.usual(AirQuantity::temperature);
  const Usual& usual_water = air.usual(AirQuantity::vapour);
  if (!warmth || !water || !usual_warmth.knows() || !usual_water.knows()) return false;
  const View view{*warmth, *water, usual_warmth, usual_water};
  return dries_too_fast(view) || cools_too_fast(view) ||
         water->slope > kHasty * usual_water.rise() + kHastySlopeE;
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
      return is_dry(air) ? Cause::opened : Cause::cooling;
    case Trouble::dry:
      if (is_warm(view) && -change.by_warmth > -change.by_water) return Cause::warming;
      return is_cold(view) || cools_too_fast(view) || dries_too_fast(view) ? Cause::opened
                                                                           : Cause::drying;
  }
  return Cause::unknown;
}

}  // namespace takehold::daemon
