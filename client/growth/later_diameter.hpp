// How thick a stem that was measured will be, without asking when it came up.
#pragma once

#include "client/growth/stem.hpp"

namespace takehold::client {

/// After `heat` more. D = A (D0/A)^exp(-k v x) says D' = A (D/A)^exp(-k v dx), whatever D0, x and
/// the seedling's own size were. At or above the asymptote a stem stays.
sensors::Millimetres later_diameter(sensors::Millimetres now, sensors::ThermalTime heat,
                                    double vigour, const StemGrowth& stem = {});

}  // namespace takehold::client
