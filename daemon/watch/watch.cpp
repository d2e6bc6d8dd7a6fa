#include "daemon/watch/watch.hpp"

#include <algorithm>
#include <array>

#include "daemon/watch/place.hpp"
#include "daemon/watch/wording.hpp"
#include "sensors/air/psychrometrics.hpp"

namespace takehold::daemon {

using sensors::Instant;
using sensors::Reading;

namespace {

/// "humidity 88.2 %, should be 95-100 %"
template <class Quantity, class BandOf>
std::string value_against(const char* about, const std::optional<Quantity>& value,
                          const std::optional<BandOf>& band) {
  std::string text = about;
  if (value) text += " " + worded(*value);
  if (band) text += ", should be " + worded(*band);
  return text;
}

std::optional<sensors::Pressure> deficit_of(const Air& air) {
  if (!air.temperature || !air.humidity) return std::nullopt;
  return sensors::vapour_pressure_deficit(*air.temperature, *air.humidity);
}

/// The band's ends in the unit that AirTrends keeps the quantity in.
template <class Q>
void put_limits(Look& look, const std::optional<Band<Q>>& band, double (Q::*unit)() const) {
  if (!band) return;
  look.low = (band->low.*unit)();
  look.high = (band->high.*unit)();
}

}  // namespace

Watch::Watch(WatchOptions options, const std::vector<WatchedProbe>& probes, Instant start,
             std::int64_t last_number)
    : options_(options),
      warnings_(last_number),
      temperature_("temperature", AirQuantity::temperature, options.on_delay, options.horizon),
      humidity_("humidity", AirQuantity::humidity, options.on_delay, options.horizon),
      deficit_("vapour_pressure", AirQuantity::deficit, options.on_delay, options.horizon) {
  for (const auto& probe : probes) {
    const auto limit = Silence::limit_for(probe.every);
    if (probe.in_chamber) {
      joint_air_.add_probe(probe.name, limit);
      trends_.add_probe(probe.name, limit);
    }
    probes_.emplace(probe.name, Listened{Silence(limit, start), std::nullopt});
  }
}

void Watch::resume(const Warning& warning) {
  warnings_.resume(warning);
  if (!warning.standing()) return;
  if (warning.kind == WarningKind::probe) {
    const auto found = probes_.find(warning.probe.value_or(""));
    if (found == probes_.end()) return;
    found->second.silence.resume_standing();
    found->second.number = warning.number;
    return;
  }
  for (QuantityWatch* quantity : {&temperature_, &humidity_, &deficit_}) {
    if (warning.about == quantity->about()) quantity->resume(warning);
  }
}

void Watch::hear(const Reading& reading, Instant at, std::vector<Event>& events) {
  joint_air_.see(reading);
  const auto found = probes_.find(reading.probe);
  if (found == probes_.end() || reading.quality != sensors::Quality::good) return;
  if (found->second.silence.hear(reading.at) == Silence::Verdict::cleared) {
    warnings_.clear(found->second.number, at, "probe " + reading.probe + " speaks again", events);
  }
  if (!reading.temperature || !reading.humidity) return;
  trends_.see(reading.probe, reading.at, *reading.temperature, *reading.humidity);
}

std::vector<Event> Watch::see(Instant at, std::span<const Reading> readings, const Bands& bands) {
  std::vector<Event> events;
  for (const auto& reading : readings) hear(reading, at, events);
  trends_.end_round(at, is_hasty(trends_));
  judge_silence(at, events);
  judge_air(at, bands, events);
  return events;
}

std::vector<Event> Watch::wait(Instant at, const Bands& bands) {
  std::vector<Event> events;
  judge_silence(at, events);
  judge_air(at, bands, events);
  return events;
}

std::optional<Instant> Watch::due() const {
  std::optional<Instant> first;
  const auto take = [&first](std::optional<Instant> due) {
    if (due && (!first || *due < *first)) first = due;
  };
  for (const auto* quantity : {&temperature_, &humidity_, &deficit_}) take(quantity->due());
  for (const auto& [name, listened] : probes_) take(listened.silence.due());
  return first;
}

void Watch::judge_air(Instant at, const Bands& bands, std::vector<Event>& events) {
  const Air air = joint_air_.at(at);
  const auto deficit = deficit_of(air);
  Look warm{place_in(bands.temperature, options_.temperature_deadband, air.temperature),
            value_against("temperature", air.temperature, bands.temperature),
            {},
            {},
            ""};
  put_limits(warm, bands.temperature, &sensors::Celsius::degc);
  Look moist{place_in(bands.humidity, options_.humidity_deadband, air.humidity),
             value_against("humidity", air.humidity, bands.humidity),
             {},
             {},
             ""};
  put_limits(moist, bands.humidity, &sensors::RelativeHumidity::pct);
  Look dry{place_in(bands.vapour_deficit, options_.deficit_deadband, deficit),
           value_against("vapour pressure deficit", deficit, bands.vapour_deficit),
           {},
           {},
           ""};
  put_limits(dry, bands.vapour_deficit, &sensors::Pressure::pa);
  temperature_.see(at, warm, trends_, warnings_, events);
  humidity_.see(at, moist, trends_, warnings_, events);
  deficit_.see(at, dry, trends_, warnings_, events);
}

void Watch::judge_silence(Instant at, std::vector<Event>& events) {
  for (auto& [name, listened] : probes_) {
    if (listened.silence.wait(at) != Silence::Verdict::raised) continue;
    Warning warning;
    warning.kind = WarningKind::probe;
    warning.cause = Cause::silent;
    warning.probe = name;
    warning.text =
        "probe " + name + " has given nothing usable for " + worded(listened.silence.limit());
    listened.number = warnings_.raise(std::move(warning), at, events);
  }
}

}  // namespace takehold::daemon
