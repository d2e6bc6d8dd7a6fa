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

bool is_cold(const View& view) {
  return view.warmth.level < view.usual_warmth.below();
}

}  // namespace

bool is_hasty(const AirTrends& air) {
  const auto& warmth = air.motion(AirQuantity::temperature);
  const auto& water = air.motion(AirQuantity::vapour);
  if (!warmth || !water) return false;
  const Usual& usual_warmth = air.usual(AirQuantity::temperature);
  const Usual& usual_water = air.usual(AirQuantity::vapour);
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
      return by_warmth + by_water < -1 || dries_too_fast(view) ? Cause::opened : Cause::cooling;
    case Trouble::dry:
      if (-by_warmth > -by_water) return Cause::warming;
      return is_cold(view) || cools_too_fast(view) || dries_too_fast(view) ? Cause::opened
                                                                           : Cause::drying;
  }
  return Cause::unknown;
}

}  // namespace takehold::daemon
