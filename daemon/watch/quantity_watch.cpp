#include "daemon/watch/quantity_watch.hpp"

#include "daemon/watch/wording.hpp"

namespace takehold::daemon {

using sensors::Instant;
using namespace std::chrono_literals;

namespace {

constexpr auto kSpellsWithin = 3h;
constexpr std::size_t kSpellsMakeCycle = 3;  // with the one that begins
constexpr auto kCycleOver = 2h;              // without a spell

}  // namespace

QuantityWatch::QuantityWatch(const char* about, AirQuantity quantity,
                             std::chrono::milliseconds on_delay, std::chrono::milliseconds horizon)
    : about_(about), quantity_(quantity), horizon_(horizon), excursion_(on_delay) {}

void QuantityWatch::resume(const Warning& warning) {
  if (warning.kind == WarningKind::drift) {
    side(warning.below).drift.resume(warning.raised_at);
    side(warning.below).number = warning.number;
  } else if (warning.cause == Cause::cycling) {
    cycling_ = {warning.number, warning.raised_at};
  } else {
    excursion_.resume_standing(warning.raised_at, warning.below ? Place::below : Place::above);
    number_ = warning.number;
  }
}

Trouble QuantityWatch::trouble(bool below) const {
  if (quantity_ == AirQuantity::temperature) return below ? Trouble::cold : Trouble::hot;
  const bool dry = (quantity_ == AirQuantity::humidity) == below;
  return dry ? Trouble::dry : Trouble::damp;
}

void QuantityWatch::see(Instant at, const Look& look, const AirTrends& air, WarningList& warnings,
                        std::vector<Event>& events) {
  judge_outside(at, look, air, warnings, events);
  judge_drift(low_, at, look, air, warnings, events);
  judge_drift(high_, at, look, air, warnings, events);
  if (cycling_.number && at - cycling_.last_spell > kCycleOver) {
    warnings.clear(cycling_.number, at, look.value + ", no longer to and fro over the limit",
                   events);
  }
}

void QuantityWatch::judge_outside(Instant at, const Look& look, const AirTrends& air,
                                  WarningList& warnings, std::vector<Event>& events) {
  const bool below = excursion_.side() == Place::below;
  switch (excursion_.see(at, look.place)) {
    case Excursion::Verdict::nothing:
      return;
    case Excursion::Verdict::raised:
      raise_outside(at, look, air, warnings, events);
      return;
    case Excursion::Verdict::cleared:
      side(below).spells.push_back(at);
      warnings.clear(number_, at,
                     look.place == Place::free
                         ? std::string(about_) + ": nothing is asked for any more"
                         : look.value + ", right again",
                     events);
      return;
  }
}

bool QuantityWatch::crosses_by_cycle(const Side& side, const Look& look,
                                     const AirTrends& air) const {
  const auto& usual = air.usual(quantity_);
  const auto& motion = air.motion(quantity_);
  if (!usual.knows() || !motion || is_hasty(air)) return false;
  const auto limit = side.below ? look.low : look.high;
  if (!limit) return false;
  const bool ordinary =
      side.below ? motion->level >= usual.below() : motion->level <= usual.above();
  const bool crosses = side.below ? usual.low() < *limit : usual.high() > *limit;
  return (ordinary && crosses) || side.spells.size() + 1 >= kSpellsMakeCycle;
}

void QuantityWatch::raise_outside(Instant at, const Look& look, const AirTrends& air,
                                  WarningList& warnings, std::vector<Event>& events) {
  const bool below = excursion_.side() == Place::below;
  Side& out = side(below);
  while (!out.spells.empty() && at - out.spells.front() > kSpellsWithin) out.spells.pop_front();
  const bool by_cycle = crosses_by_cycle(out, look, air);
  if (by_cycle && cycling_.number) {
    cycling_.last_spell = at;
    return;
  }
  Warning warning;
  warning.about = about_;
  warning.below = below;
  warning.cause = by_cycle ? Cause::cycling : cause_of(trouble(below), air);
  warning.text = look.value + ", " + (below ? "too low for " : "too high for ") +
                 worded(at - excursion_.since().value_or(at));
  if (out.number) warning.follows = out.number;
  auto& number = by_cycle ? cycling_.number : number_;
  number = warnings.raise(std::move(warning), at, events);
  if (by_cycle) cycling_.last_spell = at;
  out.drift.end(at);
  warnings.clear(out.number, at, look.value + ", it came true", events);
}

Prospect QuantityWatch::prospect(bool below, const Look& look, const AirTrends& air) const {
  const auto& motion = air.motion(quantity_);
  const auto& usual = air.usual(quantity_);
  const auto limit = below ? look.low : look.high;
  if (!motion || !usual.knows() || !limit) return {};
  Prospect found;
  found.unusual = below ? motion->most < usual.below() : motion->least > usual.above();
  found.outlook = outlook(*motion, *limit, below, horizon_);
  found.hasty = is_hasty(air);
  return found;
}

void QuantityWatch::judge_drift(Side& side, Instant at, const Look& look, const AirTrends& air,
                                WarningList& warnings, std::vector<Event>& events) {
  if (excursion_.standing()) return;
  switch (side.drift.see(at, prospect(side.below, look, air))) {
    case Drift::Verdict::nothing:
      return;
    case Drift::Verdict::raised:
      raise_drift(side, at, look, air, warnings, events);
      return;
    case Drift::Verdict::cleared:
      warnings.clear(side.number, at, look.value + ", no longer on its way out", events);
      return;
  }
}

void QuantityWatch::raise_drift(Side& side, Instant at, const Look& look, const AirTrends& air,
                                WarningList& warnings, std::vector<Event>& events) {
  const Cause cause = cause_of(trouble(side.below), air);
  if (warnings.standing(cause) != nullptr) {  // one trouble is told once
    side.drift.end(at);
    return;
  }
  const auto ahead = prospect(side.below, look, air).outlook;
  Warning warning;
  warning.kind = WarningKind::drift;
  warning.about = about_;
  warning.below = side.below;
  warning.cause = cause;
  warning.breach_at = at + ahead->until;
  warning.text = look.value + ", " + (side.below ? "falling" : "rising") + ", out in about " +
                 worded(ahead->until);
  side.number = warnings.raise(std::move(warning), at, events);
}

}  // namespace takehold::daemon
