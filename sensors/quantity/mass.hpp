// Weights: what plants bear.
#pragma once

#include "sensors/quantity/quantity.hpp"

namespace takehold::sensors {

/// A weight in kilograms, as of a picking.
class Kilograms : public AdditiveQuantity<Kilograms> {
 public:
  static constexpr Kilograms kg(double m) { return Kilograms(m); }
  static constexpr Kilograms pounds(double m) { return Kilograms(m * kInPound); }
  constexpr double kg() const { return value_; }
  constexpr double pounds() const { return value_ / kInPound; }

 private:
  static constexpr double kInPound = 0.45359237;  // exact, by definition (1959)

  friend class AdditiveQuantity<Kilograms>;
  constexpr explicit Kilograms(double m) : AdditiveQuantity(m) {}
};

}  // namespace takehold::sensors
