// Temperatures: a point on the scale, and the difference of two points.
#pragma once

#include "sensors/quantity/quantity.hpp"

namespace takehold::sensors {

/// A difference of temperatures, in kelvins (one kelvin is one degree Celsius).
class TemperatureSpan : public AdditiveQuantity<TemperatureSpan> {
 public:
  static constexpr TemperatureSpan kelvin(double k) { return TemperatureSpan(k); }
  constexpr double kelvin() const { return value_; }

 private:
  friend class AdditiveQuantity<TemperatureSpan>;
  constexpr explicit TemperatureSpan(double k) : AdditiveQuantity(k) {}
};

/// A temperature in degrees Celsius.
class Celsius : public Quantity<Celsius> {
 public:
  static constexpr Celsius degc(double t) { return Celsius(t); }
  static constexpr Celsius degf(double t) { return Celsius((t - 32.0) / 1.8); }
  constexpr double degc() const { return value_; }
  constexpr double degf() const { return value_ * 1.8 + 32.0; }
  constexpr double kelvin() const { return value_ + 273.15; }

  friend constexpr TemperatureSpan operator-(Celsius a, Celsius b) {
    return TemperatureSpan::kelvin(a.value_ - b.value_);
  }
  friend constexpr Celsius operator+(Celsius t, TemperatureSpan d) {
    return Celsius(t.value_ + d.kelvin());
  }
  friend constexpr Celsius operator-(Celsius t, TemperatureSpan d) {
    return Celsius(t.value_ - d.kelvin());
  }

 private:
  constexpr explicit Celsius(double t) : Quantity(t) {}
};

}  // namespace takehold::sensors
