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

/// Over but never acknowledged, they would pile up for months; standing ones are few by nature.
constexpr std::size_t kMostKept = 200;

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

}  // namespace

Watch::Watch(WatchOptions options, const std::vector<WatchedProbe>& probes, Instant start,
             std::int64_t last_number)
    : options_(options),
      last_number_(last_number),
      temperature_{"temperature", Excursion(options.on_delay), std::nullopt},
      humidity_{"humidity", Excursion(options.on_delay), std::nullopt},
      deficit_{"vapour_pressure", Excursion(options.on_delay), std::nullopt} {
  for (const auto& probe : probes) {
    const auto limit = Silence::limit_for(probe.every);
    if (probe.in_chamber) joint_air_.add_probe(probe.name, limit);
    probes_.emplace(probe.name, Listened{Silence(limit, start), std::nullopt});
  }
}

void Watch::resume(const Warning& warning) {
  warnings_.push_back(warning);
  if (!warning.standing()) return;
  if (warning.kind == WarningKind::probe) {
    const auto found = probes_.find(warning.probe.value_or(""));
    if (found == probes_.end()) return;
    found->second.silence.resume_standing();
    found->second.number = warning.number;
    return;
  }
  for (Judged* judged : {&temperature_, &humidity_, &deficit_}) {
    if (warning.about != judged->about) continue;
    judged->excursion.resume_standing(warning.raised_at,
                                      warning.below ? Place::below : Place::above);
    judged->number = warning.number;
  }
}

std::vector<Event> Watch::see(Instant at, std::span<const Reading> readings, const Bands& bands) {
  std::vector<Event> events;
  for (const auto& reading : readings) {
    joint_air_.see(reading);
    const auto found = probes_.find(reading.probe);
    if (found == probes_.end() || reading.quality != sensors::Quality::good) continue;
    if (found->second.silence.hear(reading.at) == Silence::Verdict::cleared) {
      clear(found->second.number, at, "probe " + reading.probe + " speaks again", events);
    }
  }
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
  for (const Judged* judged : {&temperature_, &humidity_, &deficit_}) take(judged->excursion.due());
  for (const auto& [name, listened] : probes_) take(listened.silence.due());
  return first;
}

void Watch::judge_air(Instant at, const Bands& bands, std::vector<Event>& events) {
  const Air air = joint_air_.at(at);
  const auto deficit = deficit_of(air);
  judge(temperature_, at,
        place_in(bands.temperature, options_.temperature_deadband, air.temperature),
        value_against("temperature", air.temperature, bands.temperature), events);
  judge(humidity_, at, place_in(bands.humidity, options_.humidity_deadband, air.humidity),
        value_against("humidity", air.humidity, bands.humidity), events);
  judge(deficit_, at, place_in(bands.vapour_deficit, options_.deficit_deadband, deficit),
        value_against("vapour pressure deficit", deficit, bands.vapour_deficit), events);
}

void Watch::judge(Judged& judged, Instant at, Place place, const std::string& value,
                  std::vector<Event>& events) {
  switch (judged.excursion.see(at, place)) {
    case Excursion::Verdict::nothing:
      return;
    case Excursion::Verdict::raised: {
      Warning warning;
      warning.about = judged.about;
      warning.below = place == Place::below;
      warning.text = value + ", " + (warning.below ? "too low for " : "too high for ") +
                     worded(at - judged.excursion.since().value_or(at));
      judged.number = raise(std::move(warning), at, events);
      return;
    }
    case Excursion::Verdict::cleared:
      clear(judged.number, at,
            place == Place::free ? std::string(judged.about) + ": nothing is asked for any more"
                                 : value + ", right again",
            events);
      return;
  }
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
    listened.number = raise(std::move(warning), at, events);
  }
}

std::int64_t Watch::raise(Warning warning, Instant at, std::vector<Event>& events) {
  warning.number = ++last_number_;
  warning.raised_at = at;
  events.push_back({at, EventType::warning, warning, "", warning.text});
  warnings_.push_back(std::move(warning));
  forget_surplus();
  return last_number_;
}

void Watch::forget_surplus() {
  if (warnings_.size() <= kMostKept) return;
  const auto over = std::find_if(warnings_.begin(), warnings_.end(),
                                 [](const Warning& w) { return !w.standing(); });
  if (over != warnings_.end()) warnings_.erase(over);  // the log has it for good
}

void Watch::clear(std::optional<std::int64_t>& number, Instant at, std::string text,
                  std::vector<Event>& events) {
  if (!number) return;
  if (Warning* warning = find(*number)) {
    warning->cleared_at = at;
    events.push_back({at, EventType::cleared, *warning, "", std::move(text)});
    if (warning->acknowledged_at)
      std::erase_if(warnings_, [&](const Warning& w) { return w.number == *number; });
  }
  number.reset();
}

std::optional<Warning> Watch::acknowledge(std::int64_t number, Instant at) {
  Warning* warning = find(number);
  if (warning == nullptr) return std::nullopt;
  if (!warning->acknowledged_at) warning->acknowledged_at = at;
  const Warning after = *warning;
  if (!after.standing())
    std::erase_if(warnings_, [&](const Warning& w) { return w.number == number; });
  return after;
}

std::optional<Warning> Watch::shelve(std::int64_t number, Instant until) {
  Warning* warning = find(number);
  if (warning == nullptr) return std::nullopt;
  warning->shelved_until = until;
  return *warning;
}

Warning* Watch::find(std::int64_t number) {
  const auto found = std::find_if(warnings_.begin(), warnings_.end(),
                                  [&](const Warning& w) { return w.number == number; });
  return found == warnings_.end() ? nullptr : &*found;
}

}  // namespace takehold::daemon
