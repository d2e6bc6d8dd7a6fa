// Where plants stand: benches while they are small, beds in the end.
#pragma once

#include <string>
#include <vector>

#include "client/season/field.hpp"
#include "sensors/quantity/temperature.hpp"

namespace takehold::client {

using sensors::Celsius;

/// A place for seedlings, with the warmth it is run at.
struct Bench {
  static constexpr Kind kKind = Kind::bench;
  std::string name{};
  int position = 0;  ///< order in the sheet; the first, 0, is where sowings start
  Celsius day = Celsius::degc(24);
  Celsius night = Celsius::degc(20);
  double day_hours = 14;  ///< of the 24, at `day`

  std::string key() const { return name; }
  /// Mean over 24 hours.
  Celsius mean() const {
    return night + sensors::TemperatureSpan::kelvin((day - night).kelvin() * day_hours / 24.0);
  }
  bool operator==(const Bench&) const = default;
};
template <class V, Is<Bench> T>
void visit_fields(V& v, T& t) {
  v(field("name").needed(), t.name);
  v(field("position").own(), t.position);
  v(field("day_degc").needed(), t.day);
  v(field("night_degc").needed(), t.night);
  v(field("day_hours"), t.day_hours);
}

/// Ground that plants are set out into, and what troubles it.
struct Bed {
  static constexpr Kind kKind = Kind::bed;
  std::string name{};
  std::vector<std::string> troubles{};  ///< codes of the seed trade: "Ma", "Fol:1"
  std::optional<Celsius> soil_peak{};

  std::string key() const { return name; }
  bool operator==(const Bed&) const = default;
};
template <class V, Is<Bed> T>
void visit_fields(V& v, T& t) {
  v(field("name").needed(), t.name);
  v(field("troubles"), t.troubles);
  v(field("soil_peak_degc"), t.soil_peak);
}

}  // namespace takehold::client
