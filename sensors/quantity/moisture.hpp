// Water in air: relative humidity, vapour pressure and the two ways to weigh it.
#pragma once

#include "sensors/quantity/quantity.hpp"

namespace takehold::sensors {

/// Relative humidity over water: vapour pressure over saturation pressure. 0..1 as a fraction,
/// 0..100 in percent. Probes overshoot, so values a little outside can occur until checked.
class RelativeHumidity : public Quantity<RelativeHumidity> {
 public:
  static constexpr RelativeHumidity pct(double p) { return RelativeHumidity(p); }
  static constexpr RelativeHumidity fraction(double f) { return RelativeHumidity(f * 100.0); }
  constexpr double pct() const { return value_; }
  constexpr double fraction() const { return value_ / 100.0; }

 private:
  constexpr explicit RelativeHumidity(double p) : Quantity(p) {}
};

/// A pressure: of the air, of its vapour, or a difference of two. Held in pascals.
class Pressure : public AdditiveQuantity<Pressure> {
 public:
  static constexpr Pressure pa(double p) { return Pressure(p); }
  static constexpr Pressure kpa(double p) { return Pressure(p * 1000.0); }
  constexpr double pa() const { return value_; }
  constexpr double kpa() const { return value_ / 1000.0; }

 private:
  friend class AdditiveQuantity<Pressure>;
  constexpr explicit Pressure(double p) : AdditiveQuantity(p) {}
};

/// Grams of water vapour for each kilogram of dry air.
class HumidityRatio : public Quantity<HumidityRatio> {
 public:
  static constexpr HumidityRatio g_per_kg(double w) { return HumidityRatio(w); }
  constexpr double g_per_kg() const { return value_; }

 private:
  constexpr explicit HumidityRatio(double w) : Quantity(w) {}
};

/// Grams of water vapour in each cubic metre of moist air.
class AbsoluteHumidity : public Quantity<AbsoluteHumidity> {
 public:
  static constexpr AbsoluteHumidity g_per_m3(double d) { return AbsoluteHumidity(d); }
  constexpr double g_per_m3() const { return value_; }

 private:
  constexpr explicit AbsoluteHumidity(double d) : Quantity(d) {}
};

}  // namespace takehold::sensors
