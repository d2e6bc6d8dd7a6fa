#include <algorithm>
#include <cmath>

#include "plant.hpp"

namespace takehold::bench {

namespace {

using sensors::Dice;

enum class Control { on_off, proportional, timed };

/// A controller behind a sluggish sensor: what it asks of its device, 0 to 1.
struct Controller {
  Control kind = Control::on_off;
  double set = 0, play = 1;
  double lag_s = 20, least_s = 0;          // least time on or off
  double every_s = 600, share = 0.3;       // timed: on for this share of every ...
  double felt = 0, says = 0, since_s = 0;  // state

  double ask(double seconds, double value) {
    felt += (value - felt) * std::min(1.0, seconds / lag_s);
    since_s += seconds;
    if (kind == Control::proportional) {
      says = std::clamp(0.5 + (set - felt) / (2 * play), 0.0, 1.0);
    } else if (kind == Control::timed) {
      if (since_s >= every_s) since_s = 0;
      says = since_s < share * every_s && felt < set + play ? 1 : 0;
    } else if (since_s >= least_s) {
      const double wanted = felt <= set - play ? 1 : felt >= set + play ? 0 : says;
      if (wanted != says) since_s = 0;
      says = wanted;
    }
    return says;
  }
};

struct Layer {
  double degc, grams;  // of air; water in g/m3
};

class TwoLayers : public Plant {
 public:
  TwoLayers(Dice& dice, const Wishes& wishes);
  void step(double seconds, double hour, const Doings& doings) override;
  Spot at(int place) const override {
    const Layer& layer = layers_[place];
    return {layer.degc, std::min(100.0, 100 * layer.grams / saturated(layer.degc))};
  }

 private:
  void draw_body(Dice& dice, double degc);
  void draw_controls(Dice& dice, const Wishes& wishes);
  void move_room(double seconds, double hour);
  void move_heat(double seconds, double changes, double heat_w, double mist_g_s, double wet_g_s);
  void move_water(double seconds, double changes, double mist_g_s, double wet_g_s);

  // the body
  double volume_, foil_j_k_, contents_j_k_, contents_w_k_, walls_w_k_, mixing_m3_s_;
  double mat_j_k_, mat_w_k_, heater_w_, mist_max_g_s_, mist_lag_s_, falls_, leaves_dry_s_;
  double infiltration_, trays_m3_s_, walls_m3_s_, wall_share_;
  double room_day_, room_night_, room_pct_, room_wave_k_, room_wave_h_;
  double open_per_h_, leak_per_h_, spray_g_s_;
  Controller heat_, mist_;
  // the state
  Layer layers_[2];
  double contents_degc_, mat_degc_, room_degc_, mist_g_s_ = 0, wet_g_ = 0, hours_ = 0;
};

TwoLayers::TwoLayers(Dice& dice, const Wishes& wishes) {
  draw_body(dice, wishes.degc);
  draw_controls(dice, wishes);
  for (auto& layer : layers_) layer = {wishes.degc, saturated(wishes.degc) * wishes.pct / 100};
  contents_degc_ = mat_degc_ = wishes.degc;
  room_degc_ = room_night_;
}

void TwoLayers::draw_body(Dice& dice, double degc) {
  volume_ = Range{0.08, 1.2}.draw(dice);
  foil_j_k_ = Range{1'500, 8'000}.draw(dice);
  contents_j_k_ = Range{8'000, 80'000}.draw(dice);
  contents_w_k_ = Range{5, 30}.draw(dice);
  walls_w_k_ = Range{1.2, 6}.draw(dice);
  mixing_m3_s_ = volume_ * Range{0.005, 0.03}.draw(dice);
  mat_j_k_ = Range{800, 12'000}.draw(dice);
  mat_w_k_ = Range{5, 20}.draw(dice);
  room_day_ = Range{17, 23}.draw(dice);
  room_night_ = room_day_ - Range{0.5, 6}.draw(dice);
  room_pct_ = Range{30, 65}.draw(dice);
  room_wave_k_ = Range{0, 0.8}.draw(dice);
  room_wave_h_ = Range{0.3, 1.5}.draw(dice);
  infiltration_ = Range{0.1, 0.8}.draw(dice);
  trays_m3_s_ = Range{0.03, 0.3}.draw(dice) / 3600;
  walls_m3_s_ = Range{0.05, 0.5}.draw(dice) / 3600;
  wall_share_ = Range{0.1, 0.35}.draw(dice);
  open_per_h_ = Range{30, 200}.draw(dice);
  leak_per_h_ = Range{2, 10}.draw(dice);
  spray_g_s_ = Range{0.02, 0.2}.draw(dice);
  heater_w_ = walls_w_k_ * (degc - room_night_) * Range{1.4, 3.5}.draw(dice) + 3;
}

void TwoLayers::draw_controls(Dice& dice, const Wishes& wishes) {
  heat_.kind = dice.uniform() < 0.3 ? Control::proportional : Control::on_off;
  heat_.set = wishes.degc;
  heat_.play =
      heat_.kind == Control::proportional ? Range{0.4, 1.2}.draw(dice) : Range{0.1, 0.5}.draw(dice);
  heat_.lag_s = Range{10, 60}.draw(dice);
  heat_.felt = wishes.degc;
  const double which = dice.uniform();
  mist_.kind = which < 0.25   ? Control::proportional
               : which < 0.35 ? Control::timed
                              : Control::on_off;
  mist_.set = wishes.pct;
  mist_.play = wishes.play_pct;
  mist_.lag_s = Range{8, 45}.draw(dice);
  mist_.least_s = dice.uniform() < 0.3 ? Range{10, 60}.draw(dice) : 0;
  mist_.every_s = Range{240, 1'200}.draw(dice);
  mist_.share = Range{0.4, 0.7}.draw(dice);
  mist_.felt = wishes.pct;
  // The steady loss at the set point sizes the humidifier.
  const double inside = saturated(wishes.degc) * wishes.pct / 100;
  const double outside = saturated(room_night_) * room_pct_ / 100;
  const double wall = saturated(wishes.degc - wall_share_ * (wishes.degc - room_night_));
  const double loss = volume_ * infiltration_ / 3600 * (inside - outside) +
                      walls_m3_s_ * std::max(0.0, inside - wall);
  mist_max_g_s_ = loss * Range{1.6, 5}.draw(dice) + 0.0002;
  mist_lag_s_ = Range{3, 40}.draw(dice);
  falls_ = Range{0, 0.5}.draw(dice);
  leaves_dry_s_ = Range{200, 900}.draw(dice);
}

void TwoLayers::move_room(double seconds, double hour) {
  hours_ += seconds / 3600;
  const double wanted = (hour >= 7 && hour < 19 ? room_day_ : room_night_) +
                        room_wave_k_ * std::sin(2 * M_PI * hours_ / room_wave_h_);
  room_degc_ += (wanted - room_degc_) * seconds / 2'400;
}

void TwoLayers::move_heat(double seconds, double changes, double heat_w, double mist_g_s,
                          double wet_g_s) {
  const double from_mat = mat_w_k_ * (mat_degc_ - layers_[0].degc);
  mat_degc_ += (heat_w - from_mat) * seconds / mat_j_k_;
  const double mixed = mixing_m3_s_ * kAirJPerM3K * 20 * (layers_[0].degc - layers_[1].degc);
  const double out_w_k = walls_w_k_ / 2 + changes * volume_ / 2 * kAirJPerM3K;
  double to_contents = 0;
  for (int i = 0; i < 2; ++i) {
    const double gives = contents_w_k_ / 2 * (layers_[i].degc - contents_degc_);
    to_contents += gives;
    const double evaporates = kEvaporationJPerG * (i == 1 ? mist_g_s : wet_g_s);
    const double net = (i == 0 ? from_mat - mixed : mixed) - gives - evaporates -
                       out_w_k * (layers_[i].degc - room_degc_);
    layers_[i].degc += net * seconds / (foil_j_k_ / 2 + volume_ / 2 * kAirJPerM3K);
  }
  contents_degc_ += to_contents * seconds / contents_j_k_;
}

void TwoLayers::move_water(double seconds, double changes, double mist_g_s, double wet_g_s) {
  const double room = saturated(room_degc_) * room_pct_ / 100;
  const double half = volume_ / 2;
  const double up = mixing_m3_s_ * 4 * (layers_[0].grams - layers_[1].grams);
  for (int i = 0; i < 2; ++i) {
    Layer& layer = layers_[i];
    const double full = saturated(layer.degc);
    const double wall = saturated(layer.degc - wall_share_ * (layer.degc - room_degc_));
    double net = (i == 0 ? -up : up) - changes * half * (layer.grams - room) -
                 walls_m3_s_ / 2 * std::max(0.0, layer.grams - wall);
    net += i == 1 ? mist_g_s : wet_g_s + trays_m3_s_ * (full - layer.grams);
    layer.grams = std::clamp(layer.grams + net * seconds / half, 0.0, full);
  }
}

void TwoLayers::step(double seconds, double hour, const Doings& doings) {
  for (double left = seconds; left > 0; left -= 1) {
    move_room(1, hour);
    const Spot low = at(0), high = at(1);
    double heat = heat_.ask(1, (low.degc + high.degc) / 2);
    double mist = mist_.ask(1, (low.pct + high.pct) / 2);
    if (doings.heater_stuck) heat = 1;
    if (doings.heater_dead) heat = 0;
    if (doings.humidifier_stuck) mist = 1;
    if (doings.water_out) mist = 0;
    mist_g_s_ += (mist * mist_max_g_s_ - mist_g_s_) / mist_lag_s_;
    const double rain = (doings.spraying ? spray_g_s_ : 0);
    wet_g_ += falls_ * mist_g_s_ + 0.7 * rain;
    const double dryness = std::max(0.0, 1 - low.pct / 100) * 10;
    const double wet = wet_g_ / leaves_dry_s_ * std::min(1.0, dryness);
    wet_g_ = std::max(0.0, wet_g_ - wet);
    const double changes =
        (infiltration_ + doings.opening * open_per_h_ + doings.leak * leak_per_h_) / 3600;
    const double floats = (1 - falls_) * mist_g_s_ + 0.3 * rain;
    move_heat(1, changes, heat * heater_w_, floats, wet);
    move_water(1, changes, floats, wet);
  }
}

}  // namespace

std::unique_ptr<Plant> two_layers(Dice& dice, const Wishes& wishes) {
  return std::make_unique<TwoLayers>(dice, wishes);
}

}  // namespace takehold::bench
