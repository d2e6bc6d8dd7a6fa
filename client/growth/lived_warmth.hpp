// The warmth a sowing lived through and is going to: where it stood, what a probe logged there.
#pragma once

#include <cstdint>
#include <map>
#include <vector>

#include "client/growth/warmth.hpp"
#include "sensors/quantity/time_zone.hpp"

namespace takehold::client {

/// Mean temperatures of whole hours since 1970-01-01T00:00:00Z.
using LoggedHours = std::map<std::int64_t, sensors::Celsius>;

/// A sowing on a bench, from an instant on.
struct Stay {
  sensors::Instant from{};
  BenchCycle bench{};    ///< as the sheet describes it
  LoggedHours logged{};  ///< what its probe logged; empty: it has none
};

struct LivedWarmth {
  std::vector<sensors::Celsius> hourly{};  ///< an hour each from the sowing on
  int past_hours = 0;                      ///< of them, until now
  int logged_hours = 0;                    ///< of those, with a probe's mean
  int missing_hours = 0;  ///< of those, on a bench whose probe logged at another time of the stay
};

/// Hour by hour from `sown` on: a probe's mean where there is one for the hour, else what the sheet
/// says of the bench; so are all hours to come. `stays` by rising instant, the first at `sown`.
LivedWarmth lived_warmth(const std::vector<Stay>& stays, sensors::Instant sown,
                         sensors::Instant now, std::chrono::days length,
                         const sensors::TimeZone& zone);

}  // namespace takehold::client
