#include "plant.hpp"
#include "sensors/sim/chamber.hpp"

namespace takehold::bench {

namespace {

using sensors::Celsius;
using sensors::Dice;
using sensors::RelativeHumidity;
using sensors::TemperatureSpan;

sensors::ChamberSettings drawn(Dice& dice, const Wishes& wishes) {
  sensors::ChamberSettings s;
  s.set_temperature = Celsius::degc(wishes.degc);
  s.heater_play = TemperatureSpan::kelvin(Range{0.1, 0.6}.draw(dice));
  s.set_humidity = RelativeHumidity::pct(wishes.pct);
  s.humidifier_play = RelativeHumidity::pct(wishes.play_pct);
  s.volume_m3 = Range{0.1, 0.7}.draw(dice);
  s.air_heat_j_per_k = Range{2'500, 9'000}.draw(dice);
  s.contents_heat_j_per_k = Range{6'000, 50'000}.draw(dice);
  s.contents_w_per_k = Range{6, 25}.draw(dice);
  s.walls_w_per_k = Range{1.5, 4.5}.draw(dice);
  s.room.day = Celsius::degc(Range{18, 23}.draw(dice));
  s.room.night = Celsius::degc(s.room.day.degc() - Range{1, 6}.draw(dice));
  s.heater_w = s.walls_w_per_k * (wishes.degc - s.room.night.degc()) * Range{1.5, 3.5}.draw(dice);
  s.air_changes_per_h = Range{0.2, 0.9}.draw(dice);
  s.trays_m3_per_h = Range{0.05, 0.25}.draw(dice);
  s.walls_m3_per_h = Range{0.1, 0.5}.draw(dice);
  const double dry_g_per_m3 = 12;  // roughly what the room's air lacks
  s.humidifier_g_per_h = (s.volume_m3 * s.air_changes_per_h + s.walls_m3_per_h) * dry_g_per_m3 *
                         Range{1.5, 5}.draw(dice);
  return s;
}

class OnePot : public Plant {
 public:
  OnePot(Dice& dice, const Wishes& wishes)
      : chamber_(drawn(dice, wishes), std::chrono::seconds(0)),
        open_per_h_(Range{40, 160}.draw(dice)),
        leak_per_h_(Range{2, 8}.draw(dice)),
        spray_g_per_s_(Range{0.03, 0.2}.draw(dice)) {}

  // Its room keeps its own clock, from the moment it was made; hours of the day do not matter here.
  void step(double seconds, double, const Doings& doings) override {
    sensors::Upset upset;
    upset.more_air_changes_per_h = doings.opening * open_per_h_ + doings.leak * leak_per_h_;
    upset.heater_fails = doings.heater_dead;
    upset.heater_sticks = doings.heater_stuck;
    upset.humidifier_fails = doings.water_out;
    upset.humidifier_sticks = doings.humidifier_stuck;
    upset.spray_g_per_s = doings.spraying ? spray_g_per_s_ : 0;
    for (int i = 0; i < int(seconds); ++i) chamber_.step_one_second(upset);
  }
  Spot at(int) const override { return {chamber_.temperature().degc(), chamber_.humidity().pct()}; }

 private:
  sensors::Chamber chamber_;
  double open_per_h_;
  double leak_per_h_;
  double spray_g_per_s_;
};

}  // namespace

std::unique_ptr<Plant> one_pot(Dice& dice, const Wishes& wishes) {
  return std::make_unique<OnePot>(dice, wishes);
}

}  // namespace takehold::bench
