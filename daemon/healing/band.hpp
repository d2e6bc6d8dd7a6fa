// What a stage allows: a band of a quantity, and a band that moves while the stage lasts.
#pragma once

#include <algorithm>
#include <optional>

#include "sensors/quantity/growth.hpp"
#include "sensors/quantity/moisture.hpp"
#include "sensors/quantity/temperature.hpp"

namespace takehold::daemon {

/// From low to high, both inclusive; low <= high.
template <class Q>
struct Band {
  Q low;
  Q high;

  bool holds(Q value) const { return low <= value && value <= high; }
  friend bool operator==(const Band&, const Band&) = default;
};

// Quantities are read and made by the name of their unit; bands need both for any of them.
inline double number_of(sensors::Celsius q) {
  return q.degc();
}
inline double number_of(sensors::RelativeHumidity q) {
  return q.pct();
}
inline double number_of(sensors::Pressure q) {
  return q.kpa();
}
inline double number_of(sensors::PhotonFlux q) {
  return q.umol();
}
inline double number_of(sensors::CarbonDioxide q) {
  return q.ppm();
}

template <class Q>
Q quantity_of(double number);
template <>
inline sensors::Celsius quantity_of(double number) {
  return sensors::Celsius::degc(number);
}
template <>
inline sensors::RelativeHumidity quantity_of(double number) {
  return sensors::RelativeHumidity::pct(number);
}
template <>
inline sensors::Pressure quantity_of(double number) {
  return sensors::Pressure::kpa(number);
}
template <>
inline sensors::PhotonFlux quantity_of(double number) {
  return sensors::PhotonFlux::umol(number);
}
template <>
inline sensors::CarbonDioxide quantity_of(double number) {
  return sensors::CarbonDioxide::ppm(number);
}

/// The middle of a band.
template <class Q>
Q middle_of(const Band<Q>& band) {
  return quantity_of<Q>((number_of(band.low) + number_of(band.high)) / 2.0);
}

/// A band that moves evenly from `from` to `to` while its stage lasts. The two are mostly equal.
template <class Q>
struct Ramp {
  Band<Q> from;
  Band<Q> to;

  bool is_level() const { return from == to; }
  /// `progress` from 0, the stage begins, to 1, it ends.
  Band<Q> at(double progress) const {
    const auto between = [progress](Q a, Q b) {
      // The ends exactly, so that no rounding puts a reading at a limit outside.
      if (progress <= 0.0) return a;
      if (progress >= 1.0) return b;
      return quantity_of<Q>(number_of(a) + progress * (number_of(b) - number_of(a)));
    };
    return {between(from.low, to.low), between(from.high, to.high)};
  }
  friend bool operator==(const Ramp&, const Ramp&) = default;
};

}  // namespace takehold::daemon
