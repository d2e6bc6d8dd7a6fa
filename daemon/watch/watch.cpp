#include "daemon/watch/watch.hpp"

#include <algorithm>
#include <array>

#include "daemon/watch/advice.hpp"
#include "daemon/watch/place.hpp"
#include "daemon/watch/wording.hpp"
#include "sensors/air/psychrometrics.hpp"

namespace takehold::daemon {

using sensors::Instant;
using sensors::Reading;

namespace {

/// A probe is not cleared of a fault before it has been without for so long.
constexpr auto kVerdictLasts = std::chrono::minutes(10);
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

std::vector<sensors::CheckedProbe> checked(const std::vector<WatchedProbe>& probes) {
  std::vector<sensors::CheckedProbe> all;
  for (const auto& probe : probes) all.push_back({probe.name, probe.place, probe.every});
  return all;
}

Cause cause_of(sensors::ProbeFault fault) {
  switch (fault) {
    case sensors::ProbeFault::range:
      return Cause::range;
    case sensors::ProbeFault::jumping:
      return Cause::jumping;
    case sensors::ProbeFault::wet:
      return Cause::wet;
    case sensors::ProbeFault::stuck:
      return Cause::stuck;
    case sensors::ProbeFault::disagrees:
      return Cause::disagrees;
  }
  return Cause::unknown;
}

/// Of two suspect probes the one that tells of the worse counts.
void take_worse(std::optional<Look>& worst, Look look) {
  const auto badness = [](Place place) {
    if (place == Place::below || place == Place::above) return 2;
    return place == Place::unknown || place == Place::free ? 0 : 1;
  };
  if (!worst || badness(look.place) > badness(worst->place)) worst = std::move(look);
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
      deficit_("vapour_pressure", AirQuantity::deficit, options.on_delay, options.horizon),
      checks_(checked(probes)) {
  for (const auto& probe : probes) {
    const auto limit = Silence::limit_for(probe.every);
    if (probe.in_chamber()) {
      joint_air_.add_probe(probe.name, limit);
      trends_.add_probe(probe.name, limit);
    }
    probes_.emplace(probe.name, Listened{Silence(limit, start), {}, {}});
  }
}

void Watch::resume(const Warning& warning) {
  warnings_.resume(warning);
  if (!warning.standing()) return;
  if (warning.kind == WarningKind::probe) {
    const auto found = probes_.find(warning.probe.value_or(""));
    if (found == probes_.end()) return;
    Listened& probe = found->second;
    if (warning.cause == Cause::silent) {
      probe.silence.resume_standing();
      probe.silent = warning.number;
    } else {
      probe.faulty = warning.number;
      probe.fault = warning.cause;
    }
    return;
  }
  if (warning.kind == WarningKind::conflict) conflicts_[warning.about] = warning.number;
  for (QuantityWatch* quantity : {&temperature_, &humidity_, &deficit_}) {
    if (warning.about == quantity->about()) quantity->resume(warning);
  }
}

void Watch::hear(const Reading& reading, Instant at, std::vector<Event>& events) {
  joint_air_.see(reading);
  const auto found = probes_.find(reading.probe);
  if (found == probes_.end() || reading.quality > sensors::Quality::suspect) return;
  if (found->second.silence.hear(reading.at) == Silence::Verdict::cleared) {
    warnings_.clear(found->second.silent, at, "probe " + reading.probe + " speaks again", events);
  }
  if (reading.quality == sensors::Quality::suspect) {
    trends_.distrust(reading.probe);
  } else if (reading.temperature && reading.humidity) {
    trends_.see(reading.probe, reading.at, *reading.temperature, *reading.humidity);
  }
}

std::vector<Event> Watch::see(Instant at, std::span<const Reading> readings, const Bands& bands) {
  std::vector<Event> events;
  believed_ = checks_.see(readings);
  judge_probes(at, events);
  for (const auto& reading : believed_) hear(reading, at, events);
  trends_.end_round(at, visit_.see(at, haste_of(trends_), is_as_usual(trends_)));
  judge_silence(at, events);
  judge_conflicts(at, bands, events);
  judge_air(at, bands, events);
  return events;
}

std::vector<Event> Watch::wait(Instant at, const Bands& bands) {
  std::vector<Event> events;
  judge_silence(at, events);
  judge_conflicts(at, bands, events);
  judge_air(at, bands, events);
  return events;
}

std::optional<Instant> Watch::due() const {
  std::optional<Instant> first;
  const auto take = [&first](std::optional<Instant> due) {
    if (due && (!first || *due < *first)) first = due;
  };
  for (const auto* quantity : {&temperature_, &humidity_, &deficit_}) take(quantity->due());
  for (const auto& [name, listened] : probes_) {
    if (listened.fault == Cause::unknown) take(listened.silence.due());
  }
  return first;
}

std::string Watch::doubt(const Reading& reading) const {
  const auto& finding = checks_.finding(reading.probe);
  return finding && reading.quality == sensors::Quality::suspect ? finding->reason : "";
}

std::vector<Air> Watch::airs_that_count(Instant at) const {
  const Air joint = joint_air_.at(at);
  if (joint.temperature || joint.humidity) return {joint};
  auto disputed = joint_air_.disputed(at);
  if (disputed.empty()) disputed.push_back(joint);
  return disputed;
}

void Watch::judge_air(Instant at, const Bands& bands, std::vector<Event>& events) {
  std::optional<Look> warm, moist, dry;
  const auto airs = airs_that_count(at);
  for (const Air& air : airs) {
    const auto deficit = deficit_of(air);
    take_worse(warm, {place_in(bands.temperature, options_.temperature_deadband, air.temperature),
                      value_against("temperature", air.temperature, bands.temperature)});
    take_worse(moist, {place_in(bands.humidity, options_.humidity_deadband, air.humidity),
                       value_against("humidity", air.humidity, bands.humidity)});
    take_worse(dry, {place_in(bands.vapour_deficit, options_.deficit_deadband, deficit),
                     value_against("vapour pressure deficit", deficit, bands.vapour_deficit)});
  }
  put_limits(*warm, bands.temperature, &sensors::Celsius::degc);
  put_limits(*moist, bands.humidity, &sensors::RelativeHumidity::pct);
  put_limits(*dry, bands.vapour_deficit, &sensors::Pressure::pa);
  if (moist->high && *moist->high >= 100) moist->high.reset();  // nothing can be above
  for (Look* look : {&*warm, &*moist, &*dry}) {
    look->disputed = airs.size() > 1;
    look->hasty_since = visit_.since();
    look->recovering = visit_.recovering(at);
    look->at_risk = bands.at_risk;
    if (bands.youngest_entered) look->healing = at - *bands.youngest_entered;
  }
  temperature_.see(at, *warm, trends_, warnings_, events);
  humidity_.see(at, *moist, trends_, warnings_, events);
  deficit_.see(at, *dry, trends_, warnings_, events);
}

void Watch::judge_conflicts(Instant at, const Bands& bands, std::vector<Event>& events) {
  for (auto& [label, number] : conflicts_) {
    const bool goes_on = std::any_of(bands.conflicts.begin(), bands.conflicts.end(),
                                     [&](const auto& one) { return one.label == label; });
    if (!goes_on) warnings_.clear(number, at, label + ": the batches' bands meet again", events);
  }
  for (const auto& conflict : bands.conflicts) {
    auto& number = conflicts_[conflict.label];
    if (number) continue;
    Warning warning;
    warning.kind = WarningKind::conflict;
    warning.grade = Grade::mild;
    warning.about = conflict.label;
    warning.text = conflict.text;
    number = warnings_.raise(std::move(warning), at, events);
  }
}

/// A verdict that comes and goes is one trouble: it is taken back, or becomes another, only after
/// it has kept away for a while.
void Watch::judge_probes(Instant at, std::vector<Event>& events) {
  for (auto& [name, probe] : probes_) {
    const auto& finding = checks_.finding(name);
    const Cause fault = finding ? cause_of(finding->fault) : Cause::unknown;
    if (fault == probe.fault) {
      probe.other_since.reset();
      continue;
    }
    if (!probe.other_since) probe.other_since = at;
    if (probe.faulty && at - *probe.other_since < kVerdictLasts) continue;
    probe.other_since.reset();
    warnings_.clear(probe.faulty, at,
                    finding ? "probe " + name + ": something else is wrong with it"
                            : "probe " + name + " can be trusted again",
                    events);
    probe.fault = fault;
    if (!finding) continue;
    Warning warning;
    warning.kind = WarningKind::probe;
    warning.cause = fault;
    warning.probe = name;
    warning.text = "probe " + name + " " + finding->reason + ". " + advice(fault);
    probe.faulty = warnings_.raise(std::move(warning), at, events);
  }
}

void Watch::judge_silence(Instant at, std::vector<Event>& events) {
  for (auto& [name, listened] : probes_) {
    if (listened.fault != Cause::unknown) continue;  // a probe known as faulty is no news
    if (listened.silence.wait(at) != Silence::Verdict::raised) continue;
    Warning warning;
    warning.kind = WarningKind::probe;
    warning.cause = Cause::silent;
    warning.probe = name;
    warning.text = "probe " + name + " has given nothing usable for " +
                   worded(listened.silence.limit()) + ". " + advice(Cause::silent);
    listened.silent = warnings_.raise(std::move(warning), at, events);
  }
}

}  // namespace takehold::daemon
