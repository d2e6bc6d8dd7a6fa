#include "plant.hpp"

#include "sensors/air/psychrometrics.hpp"

namespace takehold::bench {

double saturated(double degc) {
  const auto t = sensors::Celsius::degc(degc);
  return sensors::absolute_humidity(t, sensors::saturation_vapour_pressure(t)).g_per_m3();
}

}  // namespace takehold::bench
