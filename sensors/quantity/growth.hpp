// What a plant lives by beside warm moist air: warmth added up, light, carbon dioxide.
#pragma once

#include "sensors/quantity/quantity.hpp"

namespace takehold::sensors {

/// Warmth above a base temperature added up over time: a heat sum in degC·d.
class ThermalTime : public AdditiveQuantity<ThermalTime> {
 public:
  static constexpr ThermalTime degc_days(double x) { return ThermalTime(x); }
  constexpr double degc_days() const { return value_; }

 private:
  friend class AdditiveQuantity<ThermalTime>;
  constexpr explicit ThermalTime(double x) : AdditiveQuantity(x) {}
};

/// Photosynthetic photon flux density in µmol m-2 s-1.
class PhotonFlux : public Quantity<PhotonFlux> {
 public:
  static constexpr PhotonFlux umol(double q) { return PhotonFlux(q); }
  constexpr double umol() const { return value_; }

 private:
  constexpr explicit PhotonFlux(double q) : Quantity(q) {}
};

/// Carbon dioxide in air, parts in a million by volume.
class CarbonDioxide : public Quantity<CarbonDioxide> {
 public:
  static constexpr CarbonDioxide ppm(double c) { return CarbonDioxide(c); }
  constexpr double ppm() const { return value_; }

 private:
  constexpr explicit CarbonDioxide(double c) : Quantity(c) {}
};

}  // namespace takehold::sensors
