// Whether two batches can share one chamber's air, hour by hour.
#pragma once

#include <span>

#include "daemon/healing/asks.hpp"

namespace takehold::client {

/// Hours in which what two batches ask for does not meet.
struct BandHours {
  int air = 0;    ///< in temperature, humidity or vapour pressure deficit
  int light = 0;  ///< in light, which a cloth over the trays can settle
  friend bool operator==(const BandHours&, const BandHours&) = default;
};

/// A batch as the chamber sees it.
struct ChamberStay {
  const daemon::Regime& regime;
  sensors::Instant entered_at;
  std::span<const daemon::ManualEvent> events{};
};

/// When the batch's first stage on a bench begins, or all its stages are over.
sensors::Instant leaves_at(const ChamberStay& stay);

/// Over the hours in which both stand in it, judged in the middle of each as daemon::shared_asks
/// does. Batches of one moment and plan never collide. Bands of one quantity that meet two by two
/// meet all together (they are intervals), so pairs are all that need to be looked at.
BandHours colliding_hours(const ChamberStay& a, const ChamberStay& b);

}  // namespace takehold::client
