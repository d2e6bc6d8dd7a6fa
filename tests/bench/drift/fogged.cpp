#include <algorithm>
#include <cmath>

#include "plant.hpp"

namespace takehold::bench {

namespace {

using sensors::Dice;

/// Proportional, integral and derivative action behind a late sensor; what it asks of its device
/// goes out as it is, or as pulses of a fixed window.
struct Pid {
  double set, gain, integral_s, derivative_s, lag_s, window_s;  // window 0: as it is
  double felt, sum = 0, clock_s = 0;

  double ask(double value) {
    const double before = felt;
    felt += (value - felt) / lag_s;
    const double error = set - felt;
    const double wanted = gain * (error + sum / integral_s) - gain * derivative_s * (felt - before);
    if ((wanted < 1 || error < 0) && (wanted > 0 || error > 0)) sum += error;  // no wind-up
    const double share = std::clamp(wanted, 0.0, 1.0);
    if (window_s <= 0) return share;
    clock_s = clock_s + 1 >= window_s ? 0 : clock_s + 1;
    return clock_s < share * window_s ? 1 : 0;
  }
};

struct Zone {
  double degc, grams;  // of air; water in g/m3
};

/// A fogger whose droplets hang in the air and evaporate the slower the damper it is; walls that
/// sweat and dry; lamps by day; a fan that stirs now and then.
class Fogged : public Plant {
 public:
  Fogged(Dice& dice, const Wishes& wishes);
  void step(double seconds, double hour, const Doings& doings) override {
    for (double left = seconds; left > 0; left -= 1) second(hour, doings);
  }
  Spot at(int place) const override {
    const Zone& zone = zones_[place];
    return {zone.degc, std::min(100.0, 100 * zone.grams / saturated(zone.degc))};
  }

 private:
  void draw_controls(Dice& dice, const Wishes& wishes);
  void second(double hour, const Doings& doings);
  void move_fog(double made, bool spraying);
  void move_heat(double changes, double heat_w, double lamp_w);
  void move_water(double changes);
  double mixing() const;

  double volume_, foil_j_k_, contents_j_k_, contents_w_k_, wall_j_k_, wall_in_w_k_, wall_out_w_k_;
  double mixing_m3_s_, fan_period_s_, fan_share_, infiltration_, trays_m3_s_, walls_m3_s_;
  double room_mean_, room_day_k_, room_step_k_, room_step_s_, room_pct_, lamp_w_;
  double heater_w_, fog_max_g_s_, fog_evaporates_s_, fog_falls_s_;
  double open_per_h_, leak_per_h_, spray_g_s_;
  Pid heat_{}, mist_{};

  Zone zones_[2];
  double contents_degc_, wall_degc_, room_degc_, fog_g_ = 0, film_g_ = 0, clock_s_ = 0;
  double evaporates_g_s_ = 0, dries_g_s_ = 0;
};

Fogged::Fogged(Dice& dice, const Wishes& wishes) {
  volume_ = Range{0.1, 1.0}.draw(dice);
  foil_j_k_ = Range{2'000, 8'000}.draw(dice);
  contents_j_k_ = Range{10'000, 90'000}.draw(dice);
  contents_w_k_ = Range{5, 25}.draw(dice);
  wall_j_k_ = Range{2'000, 20'000}.draw(dice);
  wall_in_w_k_ = Range{6, 20}.draw(dice);
  wall_out_w_k_ = Range{1.2, 5}.draw(dice);
  mixing_m3_s_ = volume_ * Range{0.004, 0.04}.draw(dice);
  fan_period_s_ = Range{300, 1'800}.draw(dice);
  fan_share_ = dice.uniform() < 0.5 ? 1.0 : Range{0.2, 0.6}.draw(dice);
  infiltration_ = Range{0.1, 0.8}.draw(dice);
  trays_m3_s_ = Range{0.03, 0.25}.draw(dice) / 3600;
  walls_m3_s_ = Range{0.1, 0.8}.draw(dice) / 3600;
  room_mean_ = Range{17, 21}.draw(dice);
  room_day_k_ = Range{0.3, 3}.draw(dice);
  room_step_k_ = dice.uniform() < 0.5 ? Range{0.1, 0.7}.draw(dice) : 0;
  room_step_s_ = Range{900, 5'400}.draw(dice);
  room_pct_ = Range{30, 65}.draw(dice);
  lamp_w_ = dice.uniform() < 0.5 ? Range{3, 15}.draw(dice) : 0;
  open_per_h_ = Range{30, 200}.draw(dice);
  leak_per_h_ = Range{2, 9}.draw(dice);
  spray_g_s_ = Range{0.02, 0.2}.draw(dice);
  draw_controls(dice, wishes);
  const Zone start{wishes.degc, saturated(wishes.degc) * wishes.pct / 100};
  zones_[0] = zones_[1] = start;
  contents_degc_ = wishes.degc;
  room_degc_ = room_mean_;
  wall_degc_ =
      (wall_in_w_k_ * wishes.degc + wall_out_w_k_ * room_mean_) / (wall_in_w_k_ + wall_out_w_k_);
}

void Fogged::draw_controls(Dice& dice, const Wishes& wishes) {
  const double gain = Range{0.3, 1.2}.draw(dice);
  heat_ = {wishes.degc,
           gain,
           Range{400, 1'800}.draw(dice),
           Range{0, 40}.draw(dice),
           Range{10, 60}.draw(dice),
           dice.uniform() < 0.5 ? Range{20, 120}.draw(dice) : 0,
           wishes.degc};
  mist_ = {wishes.pct,
           Range{0.1, 0.5}.draw(dice) / wishes.play_pct,
           Range{200, 1'200}.draw(dice),
           Range{0, 20}.draw(dice),
           Range{8, 45}.draw(dice),
           dice.uniform() < 0.6 ? Range{20, 180}.draw(dice) : 0,
           wishes.pct};
  const double cold = room_mean_ - room_day_k_;
  const double wall = 1 / (1 / wall_in_w_k_ + 1 / wall_out_w_k_);
  heater_w_ = (wall * (wishes.degc - cold) + 3) * Range{1.4, 3.5}.draw(dice);
  const double inside = saturated(wishes.degc) * wishes.pct / 100;
  const double outside = saturated(cold) * room_pct_ / 100;
  const double sweating = saturated(wishes.degc - wall / wall_in_w_k_ * (wishes.degc - cold));
  const double loss = volume_ * infiltration_ / 3600 * (inside - outside) +
                      walls_m3_s_ * std::max(0.0, inside - sweating);
  fog_falls_s_ = Range{60, 400}.draw(dice);
  fog_evaporates_s_ = Range{5, 40}.draw(dice);
  fog_max_g_s_ = (loss + 0.0003) * Range{2, 6}.draw(dice);
}

double Fogged::mixing() const {
  const bool still = std::fmod(clock_s_, fan_period_s_) > fan_share_ * fan_period_s_;
  return mixing_m3_s_ * (still ? 0.3 : 1.0);
}

void Fogged::move_fog(double made, bool spraying) {
  const double dryness = std::clamp((100 - at(1).pct) / 5, 0.0, 4.0);
  evaporates_g_s_ = std::min(fog_g_, fog_g_ / fog_evaporates_s_ * dryness);
  const double falls = fog_g_ / fog_falls_s_;
  fog_g_ =
      std::max(0.0, fog_g_ + made + (spraying ? 0.3 * spray_g_s_ : 0) - evaporates_g_s_ - falls);
  film_g_ = std::min(200.0, film_g_ + falls + (spraying ? 0.7 * spray_g_s_ : 0));
}

void Fogged::move_heat(double changes, double heat_w, double lamp_w) {
  const double mixed = mixing() * kAirJPerM3K * 20 * (zones_[0].degc - zones_[1].degc);
  double to_contents = 0, to_wall = 0;
  for (int i = 0; i < 2; ++i) {
    Zone& zone = zones_[i];
    const double contents = contents_w_k_ / 2 * (zone.degc - contents_degc_);
    const double wall = wall_in_w_k_ / 2 * (zone.degc - wall_degc_);
    const double out = changes * volume_ / 2 * kAirJPerM3K * (zone.degc - room_degc_);
    const double wet = kEvaporationJPerG * (i == 1 ? evaporates_g_s_ : 0);
    const double net = (i == 0 ? heat_w - mixed : mixed + lamp_w / 2) - contents - wall - out - wet;
    zone.degc += net / (foil_j_k_ / 2 + volume_ / 2 * kAirJPerM3K);
    to_contents += contents;
    to_wall += wall;
  }
  contents_degc_ += (to_contents + lamp_w / 2) / contents_j_k_;
  wall_degc_ +=
      (to_wall - wall_out_w_k_ * (wall_degc_ - room_degc_) - kEvaporationJPerG * dries_g_s_) /
      wall_j_k_;
}

void Fogged::move_water(double changes) {
  const double half = volume_ / 2;
  const double room = saturated(room_degc_) * room_pct_ / 100;
  const double wall = saturated(wall_degc_);
  const double mixed = mixing() * 4 * (zones_[0].grams - zones_[1].grams);
  dries_g_s_ = 0;
  for (int i = 0; i < 2; ++i) {
    Zone& zone = zones_[i];
    double from_wall = walls_m3_s_ / 2 * (wall - zone.grams);
    from_wall = std::min(from_wall, film_g_ / 600);  // a film dries no faster than this
    film_g_ = std::max(0.0, film_g_ - from_wall);
    dries_g_s_ += from_wall;
    const double net = (i == 0 ? -mixed : mixed + evaporates_g_s_) + from_wall -
                       changes * half * (zone.grams - room) +
                       trays_m3_s_ / 2 * std::max(0.0, saturated(contents_degc_) - zone.grams);
    zone.grams = std::clamp(zone.grams + net / half, 0.0, saturated(zone.degc));
  }
}

void Fogged::second(double hour, const Doings& doings) {
  clock_s_ += 1;
  const double by_day = room_day_k_ * std::sin(2 * M_PI * (hour - 9) / 24);
  const bool up = std::fmod(clock_s_, 2 * room_step_s_) < room_step_s_;
  room_degc_ += (room_mean_ + by_day + (up ? room_step_k_ : 0) - room_degc_) / 1'200;
  double heat = heat_.ask((zones_[0].degc + zones_[1].degc) / 2);
  double mist = mist_.ask((at(0).pct + at(1).pct) / 2);
  if (doings.heater_stuck) heat = 1;
  if (doings.heater_dead) heat = 0;
  if (doings.humidifier_stuck) mist = 1;
  if (doings.water_out) mist = 0;
  const double changes =
      (infiltration_ + doings.opening * open_per_h_ + doings.leak * leak_per_h_) / 3600;
  move_fog(mist * fog_max_g_s_, doings.spraying);
  move_heat(changes, heat * heater_w_, hour >= 6 && hour < 20 ? lamp_w_ : 0);
  move_water(changes);
}

}  // namespace

std::unique_ptr<Plant> fogged(Dice& dice, const Wishes& wishes) {
  return std::make_unique<Fogged>(dice, wishes);
}

}  // namespace takehold::bench
