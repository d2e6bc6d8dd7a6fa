// A simulated chamber as the bench sees it: air at two places, and what befalls it.
//
// The watch under trial knows nothing of what is behind this. Time and chance are passed in.
#pragma once

#include <memory>

#include "sensors/sim/dice.hpp"

namespace takehold::bench {

struct Spot {
  double degc = 0;
  double pct = 0;
};

/// What goes on at one moment.
struct Doings {
  double opening = 0;  ///< 0 shut, 1 as wide as this chamber opens
  double leak = 0;     ///< 0 tight, 1 as bad as this chamber's leak gets
  bool spraying = false;
  bool water_out = false;
  bool heater_dead = false;
  bool heater_stuck = false;
  bool humidifier_stuck = false;
};

class Plant {
 public:
  virtual ~Plant() = default;
  /// `hour` of the day, 0 to 24.
  virtual void step(double seconds, double hour, const Doings& doings) = 0;
  virtual Spot at(int place) const = 0;  ///< 0 or 1
};

/// What the grower set, and the room.
struct Wishes {
  double degc = 25;
  double pct = 97;
  double play_pct = 1;  ///< half of the humidifier's hysteresis
};

struct Range {
  double from, to;
  double draw(sensors::Dice& dice) const { return from + (to - from) * dice.uniform(); }
};

inline constexpr double kEvaporationJPerG = 2450;
inline constexpr double kAirJPerM3K = 1200;
double saturated(double degc);  ///< g/m3 over water

/// Air, contents and walls in one pot, on-off controls: the project's own simulator, its figures
/// drawn anew.
std::unique_ptr<Plant> one_pot(sensors::Dice& dice, const Wishes& wishes);
/// Two layers of air, a heater with a mass of its own, wet leaves; on-off, proportional or timed
/// controls behind sluggish sensors of their own.
std::unique_ptr<Plant> two_layers(sensors::Dice& dice, const Wishes& wishes);
/// No physics at all: saw teeth and exponentials, temperature and humidity tied by a factor.
std::unique_ptr<Plant> saw_teeth(sensors::Dice& dice, const Wishes& wishes);
/// Two zones stirred by a fan, droplets that evaporate the slower the damper it is, walls that
/// sweat and dry, lamps by day; PID controls, pulsed or not.
std::unique_ptr<Plant> fogged(sensors::Dice& dice, const Wishes& wishes);

}  // namespace takehold::bench
