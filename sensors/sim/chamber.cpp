#include "sensors/sim/chamber.hpp"

#include <algorithm>

#include "sensors/air/psychrometrics.hpp"

namespace takehold::sensors {
namespace {

constexpr double kSecondsPerHour = 3600.0;
constexpr double kAirJPerM3K = 1200.0;
constexpr double kEvaporationJPerG = 2450.0;
constexpr double kWallShareOfRoom = 0.25;  // the wall's inside lies this far towards the room
constexpr double kRoomFollowsS = 3600.0;   // time constant of the room's warming and cooling
constexpr auto kDay = std::chrono::hours(24);

double saturated_g_per_m3(double degc) {
  const auto t = Celsius::degc(degc);
  return absolute_humidity(t, saturation_vapour_pressure(t)).g_per_m3();
}

/// A switch with play: on at or below the low mark, off at or above the high one.
bool switched(bool on, double value, double set, double play) {
  if (value <= set - play) return true;
  if (value >= set + play) return false;
  return on;
}

}  // namespace

Result<void> check(const ChamberSettings& settings) {
  const double degc = settings.set_temperature.degc();
  if (!(degc >= 5.0 && degc <= 45.0)) {
    return Problem{"bad-set-point", "a temperature to hold is 5 to 45 degC", "", "", ""};
  }
  const double pct = settings.set_humidity.pct();
  if (!(pct >= 20.0 && pct <= 100.0)) {
    return Problem{"bad-set-point", "a humidity to hold is 20 to 100 %", "", "", ""};
  }
  return {};
}

Chamber::Chamber(const ChamberSettings& settings, std::chrono::seconds time_of_day)
    : settings_(settings),
      time_of_day_(time_of_day % kDay),
      air_degc_(settings.set_temperature.degc()),
      contents_degc_(air_degc_),
      room_degc_(room_wanted_degc()),
      water_g_per_m3_(saturated_g_per_m3(air_degc_) * settings.set_humidity.fraction()) {}

RelativeHumidity Chamber::humidity() const {
  return RelativeHumidity::fraction(water_g_per_m3_ / saturated_g_per_m3(air_degc_));
}

void Chamber::step_one_second(const Upset& upset) {
  switch_devices(upset);
  const double changes_per_s =
      (settings_.air_changes_per_h + upset.more_air_changes_per_h) / kSecondsPerHour;
  const double mist_g_per_s =
      (humidifying_ ? settings_.humidifier_g_per_h / kSecondsPerHour : 0.0) + upset.spray_g_per_s;
  move_heat(changes_per_s, mist_g_per_s);
  move_water(changes_per_s, mist_g_per_s);
  move_room();
}

void Chamber::switch_devices(const Upset& upset) {
  heating_ = switched(heating_, air_degc_, settings_.set_temperature.degc(),
                      settings_.heater_play.kelvin());
  humidifying_ = switched(humidifying_, humidity().pct(), settings_.set_humidity.pct(),
                          settings_.humidifier_play.pct());
  heating_ = (heating_ || upset.heater_sticks) && !upset.heater_fails;
  humidifying_ = (humidifying_ || upset.humidifier_sticks) && !upset.humidifier_fails;
}

void Chamber::move_heat(double changes_per_s, double mist_g_per_s) {
  const double outward_w_per_k =
      settings_.walls_w_per_k + changes_per_s * settings_.volume_m3 * kAirJPerM3K;
  const double to_contents_w = settings_.contents_w_per_k * (air_degc_ - contents_degc_);
  const double net_w = (heating_ ? settings_.heater_w : 0.0) -
                       outward_w_per_k * (air_degc_ - room_degc_) - to_contents_w -
                       kEvaporationJPerG * mist_g_per_s;
  air_degc_ += net_w / settings_.air_heat_j_per_k;
  contents_degc_ += to_contents_w / settings_.contents_heat_j_per_k;
}

void Chamber::move_water(double changes_per_s, double mist_g_per_s) {
  const double saturated = saturated_g_per_m3(air_degc_);
  const double wall_degc = air_degc_ - kWallShareOfRoom * (air_degc_ - room_degc_);
  const double outward_g_per_s =
      changes_per_s * settings_.volume_m3 * (water_g_per_m3_ - settings_.room.water.g_per_m3());
  const double from_trays_g_per_s =
      settings_.trays_m3_per_h / kSecondsPerHour * (saturated - water_g_per_m3_);
  const double dew_g_per_s = settings_.walls_m3_per_h / kSecondsPerHour *
                             std::max(0.0, water_g_per_m3_ - saturated_g_per_m3(wall_degc));
  const double net_g_per_s = mist_g_per_s + from_trays_g_per_s - outward_g_per_s - dew_g_per_s;
  // What the air cannot hold falls as drops and counts no more.
  water_g_per_m3_ = std::clamp(water_g_per_m3_ + net_g_per_s / settings_.volume_m3, 0.0, saturated);
}

double Chamber::room_wanted_degc() const {
  const bool day = time_of_day_ >= settings_.room.day_from && time_of_day_ < settings_.room.day_to;
  return (day ? settings_.room.day : settings_.room.night).degc();
}

void Chamber::move_room() {
  time_of_day_ = (time_of_day_ + std::chrono::seconds(1)) % kDay;
  room_degc_ += (room_wanted_degc() - room_degc_) / kRoomFollowsS;
}

}  // namespace takehold::sensors
