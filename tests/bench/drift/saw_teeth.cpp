#include <algorithm>
#include <cmath>

#include "plant.hpp"

namespace takehold::bench {

namespace {

using sensors::Dice;

/// One quantity between two marks: it falls by itself, rises while its device works, and leans
/// towards where it would come to rest without.
struct Tooth {
  double set, play;
  double up, down;  // a second, at the set point
  double rest;      // where it would end with the device off
  double value;
  bool on = false;
  double wander = 0;  // a slow drift of the marks

  double fall() const { return down * (value - rest) / (set - rest); }
};

class SawTeeth : public Plant {
 public:
  SawTeeth(Dice& dice, const Wishes& wishes) : dice_(dice.next()) {
    const double room = Range{16, 21}.draw(dice);
    warm_ = {wishes.degc,
             Range{0.05, 0.5}.draw(dice),
             Range{0.001, 0.006}.draw(dice),
             Range{0.0004, 0.003}.draw(dice),
             room,
             wishes.degc};
    wet_ = {wishes.pct,
            wishes.play_pct,
            Range{0.006, 0.03}.draw(dice),
            Range{0.0015, 0.006}.draw(dice),
            Range{45, 65}.draw(dice),
            wishes.pct};
    warm_.up = std::max(warm_.up, 0.8 * warm_.down);
    tie_ = Range{0, 3}.draw(dice);
    open_per_s_ = Range{0.01, 0.05}.draw(dice);
    leak_per_s_ = Range{0.0006, 0.003}.draw(dice);
    spray_per_s_ = Range{0.05, 0.4}.draw(dice);
    air_share_ = Range{0.15, 0.6}.draw(dice);
    flutter_pct_ = Range{0, 0.3}.draw(dice);
    flutter_s_ = Range{60, 900}.draw(dice);
  }

  void step(double seconds, double hour, const Doings& doings) override {
    for (double left = seconds; left > 0; left -= 1) second(hour, doings);
  }

  Spot at(int) const override {
    const double pct = wet_.value - tie_ * (warm_.value - warm_.set) + flutter_;
    return {warm_.value, std::clamp(pct, 0.0, 100.0)};
  }

 private:
  void second(double hour, const Doings& doings) {
    const double night = hour < 7 || hour >= 19 ? 1.3 : 1.0;  // the room pulls harder by night
    flutter_ += (flutter_pct_ * dice_.noise() - flutter_) / flutter_s_;
    turn(warm_, warm_.value, doings.heater_dead, doings.heater_stuck);
    turn(wet_, at(0).pct, doings.water_out, doings.humidifier_stuck);
    const double swap = doings.opening * open_per_s_ + doings.leak * leak_per_s_;
    warm_.value += (warm_.on ? warm_.up : 0) - night * warm_.fall() -
                   air_share_ * swap * (warm_.value - warm_.rest);
    wet_.value += (wet_.on ? wet_.up : 0) - wet_.fall() - swap * (wet_.value - wet_.rest) +
                  (doings.spraying ? spray_per_s_ : 0);
    wet_.value = std::min(wet_.value, 100 + std::max(0.0, tie_ * (warm_.value - warm_.set)));
  }

  static void turn(Tooth& tooth, double felt, bool dead, bool stuck) {
    if (felt <= tooth.set - tooth.play) tooth.on = true;
    if (felt >= tooth.set + tooth.play) tooth.on = false;
    if (stuck) tooth.on = true;
    if (dead) tooth.on = false;
  }

  Dice dice_;
  Tooth warm_, wet_;
  double tie_, open_per_s_, leak_per_s_, spray_per_s_, air_share_, flutter_pct_, flutter_s_;
  double flutter_ = 0;
};

}  // namespace

std::unique_ptr<Plant> saw_teeth(Dice& dice, const Wishes& wishes) {
  return std::make_unique<SawTeeth>(dice, wishes);
}

}  // namespace takehold::bench
