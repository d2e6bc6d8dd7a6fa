#include "client/growth/later_diameter.hpp"

#include <cmath>

namespace takehold::client {

sensors::Millimetres later_diameter(sensors::Millimetres now, sensors::ThermalTime heat,
                                    double vigour, const StemGrowth& stem) {
  if (now >= stem.asymptote) return now;
  const double left = std::exp(-stem.rate_per_degc_day * vigour * heat.degc_days());
  return stem.asymptote * std::pow(now / stem.asymptote, left);
}

}  // namespace takehold::client
