#include "sensors/sim/probe.hpp"

#include <algorithm>

#include "sensors/sim/dice.hpp"

namespace takehold::sensors {
namespace {

constexpr double kOffsetKelvin = 0.15;  // sd between probes of one make
constexpr double kOffsetPct = 0.5;
constexpr double kJumpKelvin = 8.0;
constexpr double kJumpPct = 20.0;
constexpr double kOffPct = -8.0;
constexpr Decoded kAllBitsHigh{Celsius::degc(130.0), RelativeHumidity::pct(119.0)};
constexpr std::uint64_t kOffsetStream = 0x0ff5e7;

}  // namespace

SimulatedProbe::SimulatedProbe(const ProbeSettings& settings, std::uint64_t key,
                               const Chamber& chamber)
    : settings_(settings),
      key_(key),
      degc_(chamber.temperature().degc()),
      pct_(chamber.humidity().pct()) {}

void SimulatedProbe::step_one_second(const Chamber& chamber, const ProbeFaults& faults) {
  ++second_;
  degc_ += (chamber.temperature().degc() - degc_) / settings_.temperature_lag_s;
  pct_ += (chamber.humidity().pct() - pct_) / settings_.humidity_lag_s;
  faults_ = faults;
  if (!faults.stuck) held_.reset();
  if (faults.stuck && !held_) held_ = fresh();
}

std::optional<Decoded> SimulatedProbe::says() const {
  if (faults_.silent) return std::nullopt;
  return held_ ? *held_ : fresh();
}

Decoded SimulatedProbe::fresh() const {
  if (faults_.wild) return kAllBitsHigh;
  Dice dice(mixed(key_, second_, 0));
  double degc = degc_ + settings_.temperature_offset.kelvin() +
                settings_.temperature_noise.kelvin() * dice.noise();
  double pct =
      pct_ + settings_.humidity_offset.pct() + settings_.humidity_noise.pct() * dice.noise();
  if (faults_.jump) {
    degc += kJumpKelvin * (2.0 * dice.uniform() - 1.0);
    pct += kJumpPct * (2.0 * dice.uniform() - 1.0);
  }
  if (faults_.off) pct += kOffPct;
  if (faults_.wet) pct = 100.0;
  return {Celsius::degc(degc), RelativeHumidity::pct(std::clamp(pct, 0.0, 100.0))};
}

ProbeSettings probe_of_number(std::uint64_t seed, int number) {
  Dice dice(mixed(seed, kOffsetStream, std::uint64_t(number)));
  ProbeSettings settings;
  settings.temperature_offset = TemperatureSpan::kelvin(kOffsetKelvin * dice.noise());
  settings.humidity_offset = RelativeHumidity::pct(kOffsetPct * dice.noise());
  return settings;
}

}  // namespace takehold::sensors
