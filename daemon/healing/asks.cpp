#include "daemon/healing/asks.hpp"

#include <algorithm>

namespace takehold::daemon {
namespace {

/// By the hour; between day and night all that either allows, and what lies between.
template <class Q>
std::optional<Band<Q>> band_at(const std::optional<Ramp<Q>>& day,
                               const std::optional<Ramp<Q>>& night, double progress,
                               Daylight daylight) {
  if (!day) return std::nullopt;
  const Band<Q> by_day = day->at(progress);
  if (!night || daylight == Daylight::day) return by_day;
  const Band<Q> by_night = night->at(progress);
  if (daylight == Daylight::night) return by_night;
  return Band<Q>{std::min(by_day.low, by_night.low), std::max(by_day.high, by_night.high)};
}

Asks asks_at(const Stage& stage, double progress, Daylight light) {
  Asks asks;
  asks.temperature = band_at(stage.temperature, stage.night_temperature, progress, light);
  asks.humidity = band_at(stage.humidity, stage.night_humidity, progress, light);
  asks.vapour_deficit = band_at(stage.vapour_deficit, stage.night_vapour_deficit, progress, light);
  asks.light = stage.light;
  asks.tasks = stage.tasks;
  return asks;
}

template <class Q>
std::optional<Band<Q>> overlap(const Band<Q>& a, const Band<Q>& b) {
  const Band<Q> both{std::max(a.low, b.low), std::min(a.high, b.high)};
  if (both.low < both.high) return both;
  const bool one_is_a_point = a.low == a.high || b.low == b.high;
  if (both.low == both.high && one_is_a_point) return both;
  return std::nullopt;
}

template <class Q>
using BandOf = std::optional<Band<Q>> Asks::*;

/// `batches` from the youngest on.
template <class Q>
std::optional<SharedBand<Q>> share(const std::vector<const BatchAsks*>& batches, BandOf<Q> which,
                                   const char* about, std::vector<AskConflict>& conflicts) {
  std::vector<const BatchAsks*> sharing;
  std::optional<SharedBand<Q>> shared;
  for (const BatchAsks* batch : batches) {
    const auto& own = batch->asks.*which;
    if (!own) continue;
    if (!shared) {
      shared = SharedBand<Q>{*own, middle_of(*own)};
      sharing.push_back(batch);
    } else if (const auto both = overlap(shared->band, *own)) {
      shared->band = *both;
      sharing.push_back(batch);
    } else {
      const auto collides = std::find_if(
          sharing.begin(), sharing.end(),
          [&](const BatchAsks* other) { return !overlap(*(other->asks.*which), *own); });
      const BatchAsks* younger = collides == sharing.end() ? sharing.front() : *collides;
      conflicts.push_back({about, younger->label, batch->label});
    }
  }
  if (shared) shared->aim = std::clamp(shared->aim, shared->band.low, shared->band.high);
  return shared;
}

}  // namespace

Asks asks_of(const Regime& regime, const StageNow& now) {
  if (now.over) return {};
  return asks_at(regime.stages[now.index], now.progress, now.daylight);
}

ChamberAsks chamber_asks(const Regime& regime, const StageNow& now) {
  if (!now.over && regime.stages[now.index].where == StagePlace::chamber) {
    return {asks_of(regime, now), false};
  }
  for (std::size_t i = now.index; i-- > 0;) {
    if (regime.stages[i].where != StagePlace::chamber) continue;
    ChamberAsks last{asks_at(regime.stages[i], 1.0, now.daylight), true};
    last.asks.tasks.clear();
    return last;
  }
  return {{}, true};
}

SharedAsks shared_asks(std::span<const BatchAsks> batches) {
  std::vector<const BatchAsks*> youngest_first;
  for (const BatchAsks& batch : batches) youngest_first.push_back(&batch);
  std::sort(youngest_first.begin(), youngest_first.end(),
            [](const BatchAsks* a, const BatchAsks* b) {
              if (a->entered_at != b->entered_at) return a->entered_at > b->entered_at;
              return a->label < b->label;
            });
  SharedAsks shared;
  auto& conflicts = shared.conflicts;
  shared.temperature = share(youngest_first, &Asks::temperature, "temperature", conflicts);
  shared.humidity = share(youngest_first, &Asks::humidity, "humidity", conflicts);
  shared.vapour_deficit = share(youngest_first, &Asks::vapour_deficit, "vapour_deficit", conflicts);
  shared.light = share(youngest_first, &Asks::light, "light", conflicts);
  return shared;
}

}  // namespace takehold::daemon
