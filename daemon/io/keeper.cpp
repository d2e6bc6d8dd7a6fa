#include "daemon/io/keeper.hpp"

#include <algorithm>
#include <set>

#include "daemon/io/occupant_batch.hpp"

namespace takehold::daemon {

using sensors::Instant;
using sensors::Reading;

namespace {

constexpr int kOpenWarnings = 200;

WatchOptions watch_options(const WarningSettings& settings) {
  WatchOptions options;
  options.on_delay = settings.on_delay;
  options.horizon = settings.horizon;
  options.temperature_deadband = settings.temperature_deadband;
  options.humidity_deadband = settings.humidity_deadband;
  return options;
}

std::vector<WatchedProbe> watched(const Settings& settings) {
  std::vector<WatchedProbe> probes;
  for (const auto& probe : settings.probes) {
    probes.push_back({probe.name, probe.every, probe.place});
  }
  return probes;
}

Batch batch_of(const OccupantSettings& occupant) {
  Batch batch;
  batch.label = occupant.label;
  batch.regime = occupant.regime;
  batch.entered_at = occupant.entered_at;
  return batch;
}

}  // namespace

Keeper::Keeper(const Settings& settings, ChamberLog& log, Instant start)
    : settings_(settings),
      log_(log),
      patient_(log),
      chamber_(new_chamber(start, log.last_warning_number())),
      started_at_(start) {
  for (const auto& probe : settings.probes) {
    log_.add_probe(probe.name, probe.place, probe.calibration);
    probes_[probe.name];
  }
  for (const auto& record : log_.occupants()) chamber_.put(batch_from(record), start);
  for (const auto& occupant : settings.occupants) chamber_.put(batch_of(occupant), start);
  for (const auto& warning : log_.open_warnings(kOpenWarnings)) chamber_.resume(warning);
}

Chamber Keeper::new_chamber(Instant now, std::int64_t last_warning) const {
  return Chamber(watch_options(settings_.warnings), watched(settings_), now, last_warning);
}

void Keeper::clock_stepped(Instant now, std::chrono::milliseconds by) {
  auto last_warning = log_.last_warning_number();
  for (const auto& warning : chamber_.watch().warnings()) {
    last_warning = std::max(last_warning, warning.number);
  }
  // What a clock that was never set has dated is dated anew, as the log does.
  const bool never_set = now - by < kFirstClock && now >= kFirstClock;
  const auto redated = [&](Instant at) { return never_set && at < kFirstClock ? at + by : at; };
  Chamber fresh = new_chamber(now, last_warning);
  for (const auto& [label, batch] : chamber_.batches()) fresh.put(batch, now);
  for (auto warning : chamber_.watch().warnings()) {
    warning.raised_at = redated(warning.raised_at);
    fresh.resume(warning);
  }
  chamber_ = std::move(fresh);
  started_at_ = redated(started_at_);
  for (auto& [name, probe] : probes_) {
    if (probe.last) probe.last->at = redated(probe.last->at);
    if (probe.last_good_at) probe.last_good_at = redated(*probe.last_good_at);
    if (probe.last && probe.last->at > now) probe.last.reset();
    if (probe.last_good_at && *probe.last_good_at > now) probe.last_good_at.reset();
  }
  log_.note_clock_step(now, by);
}

LoggedRound Keeper::round(Instant at, std::span<const PollResult> results) {
  std::vector<Reading> readings;
  for (const auto& result : results) readings.push_back(result.reading);
  const auto events = chamber_.see(at, readings);
  const auto& believed = chamber_.watch().believed();
  for (std::size_t i = 0; i < believed.size(); ++i) {
    const auto& error = results[i].error;
    remember(believed[i], error.empty() ? chamber_.watch().doubt(believed[i]) : error);
  }
  return write(believed, events, at);
}

LoggedRound Keeper::push(std::span<const Reading> readings, Instant now) {
  std::vector<Reading> ordered(readings.begin(), readings.end());
  std::stable_sort(ordered.begin(), ordered.end(),
                   [](const Reading& a, const Reading& b) { return a.at < b.at; });
  std::vector<Event> events;
  for (auto& reading : ordered) {
    const auto& known = probes_[reading.probe].last;
    if (known && reading.at <= known->at) continue;
    // The watch's time never goes back; a reading a little late is news of now all the same.
    auto more = chamber_.see(std::min(std::max(reading.at, chamber_.now()), now), {&reading, 1});
    events.insert(events.end(), more.begin(), more.end());
    reading = chamber_.watch().believed().front();
    remember(reading, chamber_.watch().doubt(reading));
  }
  return write(ordered, events, now);
}

LoggedRound Keeper::wait(Instant now) {
  auto events = chamber_.advance_before(now);
  const auto more = chamber_.wait(now);
  events.insert(events.end(), more.begin(), more.end());
  if (events.empty()) return {};
  return write({}, events, now);
}

void Keeper::put(const OccupantRecord& record, Batch batch, Instant now) {
  log_.save(record);
  chamber_.put(std::move(batch), now);
  for (const auto& listener : listeners_) listener({});
}

std::optional<Warning> Keeper::acknowledge(std::int64_t number, Instant at) {
  return answered(chamber_.watch().acknowledge(number, at), at);
}

std::optional<Warning> Keeper::shelve(std::int64_t number, Instant until, Instant now) {
  return answered(chamber_.watch().shelve(number, until), now);
}

std::optional<Warning> Keeper::answered(std::optional<Warning> warning, Instant now) {
  if (!warning) return warning;
  patient_.save(*warning, now);
  for (const auto& listener : listeners_) listener({});
  return warning;
}

std::vector<Reading> Keeper::unknown_of(std::vector<Reading> readings) const {
  struct Span {
    Instant first, last;
  };
  std::map<std::string, Span> spans;
  for (const auto& reading : readings) {
    auto& span = spans.try_emplace(reading.probe, Span{reading.at, reading.at}).first->second;
    span = {std::min(span.first, reading.at), std::max(span.last, reading.at)};
  }
  std::map<std::string, std::set<Instant>> known;
  for (const auto& [probe, span] : spans) {
    known[probe] = log_.times(probe, span.first, span.last + std::chrono::milliseconds(1));
  }
  std::erase_if(readings, [&](const Reading& reading) {
    return patient_.is_waiting(reading.probe, reading.at) ||
           !known[reading.probe].insert(reading.at).second;
  });
  return readings;
}

LoggedRound Keeper::write(std::span<const Reading> readings, std::span<const Event> events,
                          Instant now) {
  const auto logged = patient_.write(readings, events, now);
  for (const auto& listener : listeners_) listener(logged);
  if (const auto news = news_of_log(now); !news.empty()) {
    const auto told = patient_.write({}, news, now);
    for (const auto& listener : listeners_) listener(told);
  }
  return logged;
}

std::vector<Event> Keeper::news_of_log(Instant now) {
  const auto& trouble = patient_.trouble();
  if (trouble.has_value() == told_trouble_) return {};
  told_trouble_ = trouble.has_value();
  if (trouble) {
    return {{now, EventType::warning, std::nullopt, "log",
             "the chamber log cannot be written (" + trouble->error +
                 "): readings wait in memory, look at the disk"}};
  }
  return {{now, EventType::cleared, std::nullopt, "log", "the chamber log is written again"}};
}

void Keeper::remember(const Reading& reading, const std::string& error) {
  auto& probe = probes_[reading.probe];
  probe.last = reading;
  probe.error = error;
  if (reading.quality == sensors::Quality::good) probe.last_good_at = reading.at;
}

}  // namespace takehold::daemon
