#include "daemon/watch/cause.hpp"

#include "sensors/air/psychrometrics.hpp"

namespace takehold::daemon {

namespace {

constexpr double kHasty = 1.6;         // times the steepest usual slope
constexpr double kOpenedDry = 1.6;     // the same, of vapour pressure, for the cause
constexpr double kHastySlopeE = 0.05;  // Pa a second: below it no slope is hasty
constexpr double kHastySlopeT = 0.0006;

struct View {
  const Motion& warmth;
  const Motion& water;
  const Usual& usual_warmth;
  const Usual& usual_water;
};

/// Points of relative humidity that the change of one thing alone would make.
double by_warmth_pct(const View& view) {
  const auto before = sensors::Celsius::degc(view.usual_warmth.mean());
  const auto now = sensors::Celsius::degc(view.warmth.level);
  const auto vapour = sensors::Pressure::pa(view.usual_water.mean());
  return sensors::relative_humidity(now, vapour).pct() -
         sensors::relative_humidity(before, vapour).pct();
}

double by_water_pct(const View& view) {
  const auto now = sensors::Celsius::degc(view.warmth.level);
  return 100 * (view.water.level - view.usual_water.mean()) /
         sensors::saturation_vapour_pressure(now).pa();
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

Cause cause_of(Trouble trouble, const AirTrends& air) {
  const auto& warmth = air.motion(AirQuantity::temperature);
  const auto& water = air.motion(AirQuantity::vapour);
  const Usual& usual_warmth = air.usual(AirQuantity::temperature);
  const Usual& usual_water = air.usual(AirQuantity::vapour);
  if (!warmth || !water || !usual_warmth.knows() || !usual_water.knows()) return Cause::unknown;
  const View view{*warmth, *water, usual_warmth, usual_water};
  const double by_warmth = by_warmth_pct(view), by_water = by_water_pct(view);
  switch (trouble) {
    case Trouble::hot:
      return Cause::warming;
    case Trouble::damp:
      return by_warmth > by_water && is_cold(view) ? Cause::cooling : Cause::saturated;
    case Trouble::cold:
      return is_dry(air) ? Cause::opened : Cause::cooling;
    case Trouble::dry:
      if (is_warm(view) && -by_warmth > -by_water) return Cause::warming;
      return is_cold(view) || cools_too_fast(view) || dries_too_fast(view) ? Cause::opened
                                                                           : Cause::drying;
  }
  return Cause::unknown;
}

}  // namespace takehold::daemon
