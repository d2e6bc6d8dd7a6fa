// The air of a small healing chamber: two balances, of heat and of water, one second at a time.
//
//   air:       heater - walls - exchange with the room - contents - heat to evaporate the mist
//   contents:  trays, pots and wet soil, which warm and cool the air slowly
//   water:     mist + wet trays - exchange with the room - dew on the cooler walls
// No clock, no chance: the same settings and the same faults give the same air.
#pragma once

#include <chrono>

#include "sensors/quantity/moisture.hpp"
#include "sensors/quantity/problem.hpp"
#include "sensors/quantity/temperature.hpp"

namespace takehold::sensors {

/// The room around it, warmer by day; its water is that of 20 degC at 50 %.
struct RoomSettings {
  Celsius day = Celsius::degc(20.0);
  Celsius night = Celsius::degc(16.0);
  std::chrono::hours day_from{7};  ///< of the simulated clock's day
  std::chrono::hours day_to{19};
  AbsoluteHumidity water = AbsoluteHumidity::g_per_m3(8.6);
};

/// A chamber of a quarter of a cubic metre: foil over a bench, 18 trays (all figures assumed).
struct ChamberSettings {
  Celsius set_temperature = Celsius::degc(25.0);
  TemperatureSpan heater_play = TemperatureSpan::kelvin(0.2);  ///< on below set - play, off above +
  RelativeHumidity set_humidity = RelativeHumidity::pct(97.5);
  RelativeHumidity humidifier_play = RelativeHumidity::pct(1.0);
  double volume_m3 = 0.25;
  double air_heat_j_per_k = 4'000.0;        ///< air, foil and leaves
  double contents_heat_j_per_k = 15'000.0;  ///< trays and wet soil
  double contents_w_per_k = 15.0;           ///< between the two
  double walls_w_per_k = 2.5;
  double heater_w = 45.0;
  double humidifier_g_per_h = 12.0;
  double trays_m3_per_h = 0.15;  ///< of saturated air given off
  double walls_m3_per_h = 0.3;   ///< of air that loses its water down to the wall's saturation
  double air_changes_per_h = 0.4;
  RoomSettings room;
};

/// Set points outside 5..45 degC or 20..100 %: code "bad-set-point".
Result<void> check(const ChamberSettings& settings);

/// What is wrong at a moment.
struct Upset {
  double more_air_changes_per_h = 0.0;
  bool heater_fails = false;
  bool heater_sticks = false;
  bool humidifier_fails = false;
  bool humidifier_sticks = false;
  double spray_g_per_s = 0.0;
};

class Chamber {
 public:
  /// Settled at its set points. `settings` must be checked.
  explicit Chamber(const ChamberSettings& settings, std::chrono::seconds time_of_day);

  void step_one_second(const Upset& upset);
  /// What the humidifier holds from now on; within check's bounds.
  void set_humidity(RelativeHumidity wanted) { settings_.set_humidity = wanted; }

  Celsius temperature() const { return Celsius::degc(air_degc_); }
  RelativeHumidity humidity() const;
  bool is_heating() const { return heating_; }
  bool is_humidifying() const { return humidifying_; }
  Celsius room_temperature() const { return Celsius::degc(room_degc_); }

 private:
  void switch_devices(const Upset& upset);
  void move_heat(double changes_per_s, double mist_g_per_s);
  void move_water(double changes_per_s, double mist_g_per_s);
  void move_room();
  double room_wanted_degc() const;

  ChamberSettings settings_;
  std::chrono::seconds time_of_day_;
  double air_degc_;
  double contents_degc_;
  double room_degc_;
  double water_g_per_m3_;
  bool heating_ = false;
  bool humidifying_ = false;
};

}  // namespace takehold::sensors
