// Lengths: the diameter of a stem, and the height of a place above the sea.
#pragma once

#include <cmath>
#include <cstdint>

#include "sensors/quantity/quantity.hpp"

namespace takehold::sensors {

/// A length in millimetres, as of a stem. Compare two measured stems by um(), never by mm():
/// 2.2 - 2.0 <= 0.2 is false in binary fractions.
class Millimetres : public AdditiveQuantity<Millimetres> {
 public:
  static constexpr Millimetres mm(double d) { return Millimetres(d); }
  static constexpr Millimetres um(std::int64_t d) {
    return Millimetres(static_cast<double>(d) / 1000.0);
  }
  static constexpr Millimetres inch(double d) { return Millimetres(d * 25.4); }
  constexpr double mm() const { return value_; }
  constexpr double inch() const { return value_ / 25.4; }
  /// Whole micrometres, the nearest.
  std::int64_t um() const { return std::llround(value_ * 1000.0); }

 private:
  friend class AdditiveQuantity<Millimetres>;
  constexpr explicit Millimetres(double d) : AdditiveQuantity(d) {}
};

/// A height above the sea in metres.
class Altitude : public Quantity<Altitude> {
 public:
  static constexpr Altitude m(double h) { return Altitude(h); }
  constexpr double m() const { return value_; }

 private:
  constexpr explicit Altitude(double h) : Quantity(h) {}
};

}  // namespace takehold::sensors
