#include "daemon/healing/exposure.hpp"

#include <algorithm>

#include "daemon/healing/stage_at.hpp"
#include "sensors/air/psychrometrics.hpp"

namespace takehold::daemon {

using sensors::Instant;
using namespace std::chrono_literals;

namespace {

/// From low to high, in the quantity's own unit.
struct Limits {
  double low, high;
};

template <class Q>
std::optional<Limits> limits_of(const std::optional<Band<Q>>& band) {
  if (!band) return std::nullopt;
  return Limits{number_of(band->low), number_of(band->high)};
}

double share(Hours part, Hours whole) {
  return whole.count() > 0 ? std::clamp(part / whole, 0.0, 1.0) : 0.0;
}

/// How far a value lies beyond a limit at both ends of a stretch, as value and as amount.
struct Excess {
  double from, to;
  double from_scale, to_scale;
};

}  // namespace

/// One side of a band while it is counted.
struct ExposureCounter::Tally {
  BandExposure found;
  Hours below_spell{0};
  Hours above_spell{0};

  /// The excess changes evenly over `length`; what of it is above nothing counts.
  static void add(Beyond& side, Hours& spell, const Excess& excess, Hours length) {
    if (excess.from <= 0 && excess.to <= 0) {
      spell = Hours(0);
      return;
    }
    const double begins = excess.from > 0 ? excess.from * excess.from_scale : 0;
    const double ends = excess.to > 0 ? excess.to * excess.to_scale : 0;
    double part = 1;
    if (excess.from <= 0) part = excess.to / (excess.to - excess.from);
    if (excess.to <= 0) part = excess.from / (excess.from - excess.to);
    const Hours outside = length * part;
    side.time += outside;
    side.amount_hours += (begins + ends) / 2 * outside.count();
    spell = excess.from > 0 ? spell + outside : outside;
    side.longest = std::max(side.longest, spell);
    if (excess.to <= 0) spell = Hours(0);
  }

  void cut() { below_spell = above_spell = Hours(0); }
};

/// One stage's stretch of time.
struct ExposureCounter::Span {
  StageExposure stage;
  bool moving = false;  ///< some band moves, or is another by night
  Asks asks;            ///< if none moves
  Tally tallies[kQuantities];
};

ExposureCounter::ExposureCounter(const Regime& regime, Instant entered_at,
                                 const std::vector<ManualEvent>& events, Instant until)
    : regime_(regime), events_(events), entered_at_(entered_at) {
  begin_spans(until);
}

ExposureCounter::~ExposureCounter() = default;

void ExposureCounter::begin_spans(Instant until) {
  std::optional<StageNow> known;
  for (Instant at = entered_at_; at < until;) {
    const StageNow stage = stage_at(regime_, entered_at_, events_, at);
    Instant end = stage.next ? std::min(*stage.next, until) : until;
    for (const auto& event : events_) {
      if (event.at > at) end = std::min(end, event.at);
    }
    if (known && known->index == stage.index && known->since == stage.since) {
      spans_.back().stage.until = end;  // a hold changes a stage's length, not the stage
    } else {
      Span span;
      span.stage.stage = std::string(stage_name(regime_, stage));
      span.stage.since = at;
      span.stage.until = end;
      span.asks = chamber_asks(regime_, stage).asks;
      span.moving = regime_.day || (!stage.over && regime_.stages[stage.index].moves());
      spans_.push_back(std::move(span));
    }
    known = stage;
    at = end;
  }
}

Asks ExposureCounter::asks_at(const Span& span, Instant at) const {
  if (!span.moving) return span.asks;
  const Instant inside = std::min(at, span.stage.until - 1ms);
  return chamber_asks(regime_, stage_at(regime_, entered_at_, events_, inside)).asks;
}

void ExposureCounter::see(Instant at, std::optional<sensors::Celsius> temperature,
                          std::optional<sensors::RelativeHumidity> humidity) {
  if (temperature) look(kTemperature, {at, temperature->degc(), 1});
  if (humidity) {
    const double scale =
        temperature ? sensors::saturation_vapour_pressure(*temperature).kpa() / 100 : 0;
    look(kHumidity, {at, humidity->pct(), scale});
  }
  if (temperature && humidity) {
    look(kDeficit, {at, sensors::vapour_pressure_deficit(*temperature, *humidity).kpa(), 1});
  }
}

void ExposureCounter::look(Quantity quantity, const Point& point) {
  auto& last = last_[quantity];
  if (last && point.at <= last->at) return;
  const bool bridged = last && point.at - last->at <= kLongestBridged;
  auto& first = first_open_[quantity];
  while (first < spans_.size() && last && spans_[first].stage.until <= last->at) ++first;
  for (std::size_t i = first; i < spans_.size() && spans_[i].stage.since < point.at; ++i) {
    if (bridged) {
      count(spans_[i], quantity, *last, point);
    } else {
      spans_[i].tallies[quantity].cut();
    }
  }
  last = point;
}

/// The part of the stretch between two looks that lies in a span.
void ExposureCounter::count(Span& span, Quantity quantity, const Point& from, const Point& to) {
  const auto clipped = [&](Instant at) {
    const double part = Hours(at - from.at) / Hours(to.at - from.at);
    return Point{at, from.value + part * (to.value - from.value),
                 from.scale + part * (to.scale - from.scale)};
  };
  const Point begin = clipped(std::max(from.at, span.stage.since));
  const Point end = clipped(std::min(to.at, span.stage.until));
  const Hours length = end.at - begin.at;
  if (length.count() <= 0) return;
  auto& tally = span.tallies[quantity];
  tally.found.observed += length;
  const auto limits = [&](Instant at) {
    const Asks asks = asks_at(span, at);
    if (quantity == kTemperature) return limits_of(asks.temperature);
    if (quantity == kHumidity) return limits_of(asks.humidity);
    return limits_of(asks.vapour_deficit);
  };
  const auto at_begin = limits(begin.at);
  const auto at_end = limits(end.at);
  if (!at_begin || !at_end) return;
  Tally::add(tally.found.below, tally.below_spell,
             {at_begin->low - begin.value, at_end->low - end.value, begin.scale, end.scale},
             length);
  Tally::add(tally.found.above, tally.above_spell,
             {begin.value - at_begin->high, end.value - at_end->high, begin.scale, end.scale},
             length);
}

Exposure ExposureCounter::result() const {
  Exposure exposure;
  Hours seen{0};
  Hours whole{0};
  for (const Span& span : spans_) {
    StageExposure stage = span.stage;
    const auto& temperature = span.tallies[kTemperature].found;
    const auto& humidity = span.tallies[kHumidity].found;
    const auto& deficit = span.tallies[kDeficit].found;
    if (span.asks.temperature) stage.temperature = temperature;
    if (span.asks.humidity) stage.humidity = humidity;
    if (span.asks.vapour_deficit) stage.vapour_deficit = deficit;
    Hours observed = std::max(temperature.observed, humidity.observed);
    for (const auto* asked : {&stage.temperature, &stage.humidity, &stage.vapour_deficit}) {
      if (*asked) observed = std::min(observed, (*asked)->observed);
    }
    stage.observed = share(observed, stage.length());
    seen += observed;
    whole += stage.length();
    exposure.stages.push_back(std::move(stage));
  }
  if (whole.count() > 0) exposure.observed = share(seen, whole);
  return exposure;
}

}  // namespace takehold::daemon
