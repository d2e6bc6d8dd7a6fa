#include "daemon/watch/air_trends.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "sensors/air/psychrometrics.hpp"

namespace takehold::daemon {

using sensors::Instant;

namespace {

struct Scale {
  TrendOptions trend;
  UsualOptions usual;
  double most_offset_step;  ///< probes further from their usual difference teach nothing
};

// One percent of humidity is worth about 0.07 K and 31 Pa at 25 degC.
constexpr std::array<Scale, kAirQuantities> kScales = {{
    {{2e-11, 0.05, 0.004}, {0.05}, 0.8},
    {{4e-6, 8.0, 1.0}, {3.0}, 80},
    {{4e-9, 0.2, 0.02}, {0.1}, 2.5},
    {{4e-6, 8.0, 1.0}, {3.0}, 80},
}};
constexpr double kOffsetS = 2 * 3600;
constexpr double kKnownS = 1800;

template <std::size_t... I>
std::array<Usual, kAirQuantities> all_usual(std::index_sequence<I...>) {
  return {Usual(kScales[I].usual)...};
}

}  // namespace

AirTrends::AirTrends() : usual_(all_usual(std::make_index_sequence<kAirQuantities>())) {}

std::array<AirTrends::Heard, kAirQuantities> AirTrends::fresh_trends() {
  return {Heard{Trend(kScales[0].trend)}, Heard{Trend(kScales[1].trend)},
          Heard{Trend(kScales[2].trend)}, Heard{Trend(kScales[3].trend)}};
}

void AirTrends::add_probe(const std::string& name, std::chrono::milliseconds holds) {
  probes_.insert_or_assign(name, Probe{holds, fresh_trends()});
}

void AirTrends::see(const std::string& probe, Instant at, sensors::Celsius temperature,
                    sensors::RelativeHumidity humidity) {
  const auto found = probes_.find(probe);
  if (found == probes_.end()) return;
  const double numbers[kAirQuantities] = {
      temperature.degc(), sensors::vapour_pressure(temperature, humidity).pa(), humidity.pct(),
      sensors::vapour_pressure_deficit(temperature, humidity).pa()};
  for (std::size_t i = 0; i < kAirQuantities; ++i) {
    found->second.heard[i].trend.see(at, numbers[i]);
  }
}

void AirTrends::distrust(const std::string& probe) {
  const auto found = probes_.find(probe);
  if (found == probes_.end()) return;
  for (std::size_t i = 0; i < kAirQuantities; ++i) {
    found->second.heard[i].trend = Trend(kScales[i].trend);
  }
}

std::optional<Motion> AirTrends::joint(std::size_t quantity, Instant at) const {
  Motion sum{0, 0, 0, 0, 1e300, -1e300, 0};
  int count = 0;
  for (const auto& [name, probe] : probes_) {
    const auto& [trend, offset, weight] = probe.heard[quantity];
    if (!trend.knows() || at - *trend.last_at() >= probe.holds) continue;
    const double level = trend.level() - offset;
    sum.level += level;
    sum.slope += trend.slope();
    sum.level_sd += trend.level_sd() * trend.level_sd();
    sum.slope_sd += trend.slope_sd() * trend.slope_sd();
    sum.noise += trend.noise() * trend.noise();
    sum.least = std::min(sum.least, level);
    sum.most = std::max(sum.most, level);
    ++count;
  }
  if (count == 0) return std::nullopt;
  return Motion{sum.level / count,
                sum.slope / count,
                std::sqrt(sum.level_sd) / count,
                std::sqrt(sum.slope_sd) / count,
                sum.least,
                sum.most,
                std::sqrt(sum.noise) / count};
}

void AirTrends::learn_offsets(std::size_t quantity, Instant at, double seconds) {
  std::vector<Heard*> speaking;
  double mean = 0;
  for (auto& [name, probe] : probes_) {
    Heard& heard = probe.heard[quantity];
    if (!heard.trend.knows() || at - *heard.trend.last_at() >= probe.holds) continue;
    speaking.push_back(&heard);
    mean += heard.trend.level();
  }
  if (speaking.size() < 2) return;
  mean /= double(speaking.size());
  for (Heard* heard : speaking) {
    const double off = heard->trend.level() - mean - heard->offset;
    const bool young = heard->weight < 600;
    if (!young && std::abs(off) > kScales[quantity].most_offset_step) continue;
    heard->weight = std::min(kOffsetS, heard->weight + seconds);
    heard->offset += off * std::min(1.0, seconds / heard->weight);
  }
}

bool AirTrends::are_apart(AirQuantity quantity) const {
  const auto& motion = motions_[std::size_t(quantity)];
  return motion && motion->most - motion->least > kScales[std::size_t(quantity)].most_offset_step;
}

bool is_as_usual(const AirTrends& air) {
  for (const auto quantity : {AirQuantity::temperature, AirQuantity::humidity}) {
    const auto& motion = air.motion(quantity);
    const auto& usual = air.usual(quantity);
    if (!motion || !usual.knows()) return true;  // it cannot be told
    if (motion->level < usual.below() || motion->level > usual.above()) return false;
  }
  return true;
}

void AirTrends::end_round(Instant at, bool disturbed) {
  const double seconds =
      last_round_ ? std::chrono::duration<double>(at - *last_round_).count() : 0.0;
  last_round_ = at;
  voices_ = 0;
  int known = 0;
  for (const auto& [name, probe] : probes_) {
    const Heard& heard = probe.heard[0];
    voices_ += heard.trend.knows() && at - *heard.trend.last_at() < probe.holds;
    known += heard.weight > kKnownS;
  }
  usual_voices_ = std::max(known, voices_ > 0 ? 1 : 0);
  for (std::size_t i = 0; i < kAirQuantities; ++i) {
    if (seconds > 0) learn_offsets(i, at, std::min(seconds, 60.0));
    motions_[i] = joint(i, at);
    if (!motions_[i]) continue;
    paths_[i].see(at, motions_[i]->level);
    usual_[i].see(at, motions_[i]->level, motions_[i]->slope, motions_[i]->level_sd, disturbed);
  }
}

}  // namespace takehold::daemon
