#include "daemon/watch/chamber.hpp"

#include <algorithm>
#include <cassert>

#include "daemon/healing/asks.hpp"
#include "daemon/watch/compromise.hpp"

namespace takehold::daemon {

using sensors::Instant;

namespace {

StageNow stage_of(const Batch& batch, Instant at) {
  return stage_at(batch.regime, batch.entered_at, batch.events, at);
}

void append(std::vector<Event>& events, std::vector<Event> more) {
  events.insert(events.end(), std::make_move_iterator(more.begin()),
                std::make_move_iterator(more.end()));
}

void take_earlier(std::optional<Instant>& first, std::optional<Instant> other) {
  if (other && (!first || *other < *first)) first = other;
}

std::string stage_sentence(const Batch& batch, const StageNow& stage) {
  if (stage.over) return batch.label + " has healed: set it out";
  const auto& now = batch.regime.stages[stage.index];
  std::string text = batch.label + " is now in stage " + now.name;
  if (now.where == StagePlace::bench) {
    text += ": move it to the bench. Until then the chamber keeps what it last asked for";
  }
  return text;
}

template <class Q>
std::optional<Band<Q>> band_of(const std::optional<SharedBand<Q>>& shared) {
  if (!shared) return std::nullopt;
  return shared->band;
}

}  // namespace

Chamber::Chamber(WatchOptions options, const std::vector<WatchedProbe>& probes, Instant start,
                 std::int64_t last_warning)
    : watch_(options, probes, start, last_warning), now_(start) {}

void Chamber::put(Batch batch, Instant now) {
  const std::string label = batch.label;
  if (batch.in_chamber(now)) {
    stages_[label] = stage_name(batch.regime, stage_of(batch, now));
  } else {
    stages_.erase(label);
  }
  batches_.insert_or_assign(label, std::move(batch));
}

std::vector<Event> Chamber::advance_before(Instant at) {
  std::vector<Event> events;
  for (auto next = due(); next && *next < at; next = due()) {
    const Instant before = now_;
    append(events, wait(std::max(*next, now_)));
    if (now_ == before && due() == next) break;  // a timer that stays due is a mistake of ours
  }
  return events;
}

std::vector<Event> Chamber::wait(Instant at) {
  now_ = std::max(now_, at);
  std::vector<Event> events;
  note_stages(now_, events);
  append(events, watch_.wait(now_, bands(now_)));
  return events;
}

std::vector<Event> Chamber::see(Instant at, std::span<const sensors::Reading> readings) {
  auto events = advance_before(at);
  now_ = std::max(now_, at);
  note_stages(now_, events);
  append(events, watch_.see(now_, readings, bands(now_)));
  return events;
}

std::optional<Instant> Chamber::due() const {
  auto first = watch_.due();
  take_earlier(first, next_change());
  return first;
}

std::optional<Instant> Chamber::next_change() const {
  std::optional<Instant> first;
  for (const auto& [label, batch] : batches_) {
    if (batch.left_at && *batch.left_at <= now_) continue;
    if (batch.left_at) take_earlier(first, batch.left_at);
    if (batch.entered_at > now_) {
      take_earlier(first, batch.entered_at);
      continue;
    }
    take_earlier(first, stage_of(batch, now_).next);
    for (const auto& event : batch.events) {
      if (event.at > now_) take_earlier(first, event.at);
    }
  }
  return first;
}

std::vector<BatchNow> Chamber::inside(Instant at) const {
  std::vector<BatchNow> found;
  for (const auto& [label, batch] : batches_) {
    if (batch.in_chamber(at)) found.push_back({&batch, stage_of(batch, at)});
  }
  std::stable_sort(found.begin(), found.end(), [](const BatchNow& a, const BatchNow& b) {
    return a.batch->entered_at < b.batch->entered_at;
  });
  return found;
}

Bands Chamber::bands(Instant at) const {
  std::vector<BatchAsks> asks;
  Bands bands;
  for (const auto& [batch, stage] : inside(at)) {
    asks.push_back({batch->label, batch->entered_at, chamber_asks(batch->regime, stage).asks});
    bands.at_risk += (bands.at_risk.empty() ? "" : ", ") + batch->label + " (" +
                     std::string(stage_name(batch->regime, stage)) + ")";
    bands.youngest_entered = batch->entered_at;  // they come by entering
  }
  const auto shared = shared_asks(asks);
  bands.temperature = band_of(shared.temperature);
  bands.humidity = band_of(shared.humidity);
  bands.vapour_deficit = band_of(shared.vapour_deficit);
  bands.conflicts = compromised(asks, shared);
  return bands;
}

void Chamber::note_stages(Instant at, std::vector<Event>& events) {
  for (const auto& [label, batch] : batches_) {
    if (!batch.in_chamber(at)) {
      stages_.erase(label);
      continue;
    }
    const auto stage = stage_of(batch, at);
    const std::string name(stage_name(batch.regime, stage));
    auto& known = stages_[label];
    if (known == name) continue;
    known = name;
    events.push_back({at, EventType::stage, std::nullopt, label, stage_sentence(batch, stage)});
  }
}

}  // namespace takehold::daemon
