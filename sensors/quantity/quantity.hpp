// A number whose unit is part of its type.
//
// Every quantity is made by a factory named after its unit and read by a getter of the same name:
//   auto t = Celsius::degc(24.0);   t.degc() == 24.0
// Values are finite unless a function's contract says otherwise; "not known" is std::optional,
// never a special number. All are plain values, free to copy and to share between threads.
#pragma once

#include <compare>

namespace takehold::sensors {

/// What all quantities share: order and equality. `Self` is the derived unit type.
template <class Self>
class Quantity {
 public:
  friend constexpr auto operator<=>(const Self& a, const Self& b) { return a.value_ <=> b.value_; }
  friend constexpr bool operator==(const Self& a, const Self& b) { return a.value_ == b.value_; }

 protected:
  constexpr explicit Quantity(double value) : value_(value) {}
  double value_;
};

/// A quantity with a true zero or a difference: it may be added and scaled.
template <class Self>
class AdditiveQuantity : public Quantity<Self> {
 public:
  friend constexpr Self operator+(Self a, Self b) { return wrap(a.value_ + b.value_); }
  friend constexpr Self operator-(Self a, Self b) { return wrap(a.value_ - b.value_); }
  friend constexpr Self operator-(Self a) { return wrap(-a.value_); }
  friend constexpr Self operator*(Self a, double k) { return wrap(a.value_ * k); }
  friend constexpr Self operator*(double k, Self a) { return wrap(k * a.value_); }
  friend constexpr Self operator/(Self a, double k) { return wrap(a.value_ / k); }
  friend constexpr double operator/(Self a, Self b) { return a.value_ / b.value_; }

 protected:
  using Quantity<Self>::Quantity;

 private:
  static constexpr Self wrap(double value) { return Self(value); }
};

}  // namespace takehold::sensors
