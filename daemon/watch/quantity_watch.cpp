#include "daemon/watch/quantity_watch.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "daemon/watch/advice.hpp"
#include "daemon/watch/wording.hpp"

namespace takehold::daemon {

using sensors::Instant;
using namespace std::chrono_literals;

namespace {

constexpr auto kSpellsWithin = 3h;
constexpr int kSpellsMakeCycle =
    2;                              // before the one that is judged; one that was told counts twice
constexpr auto kLongSpell = 20min;  // of a cycle: beyond it, something else is going on
constexpr auto kCycleOver = 2h;     // without a spell
constexpr auto kMostPending = 20min;  // so long it is waited for which probe is failing
// A look inside lasts up to three minutes, to which the probes' lag comes. After a spray the leaves
// give off water for longer, and heaters take long to make up for an opening.
constexpr auto kDryHaste = 4min;
constexpr auto kOtherHaste = 12min;
constexpr int kDryEvidence = 9;
constexpr int kWarmthEvidence = 4;
constexpr int kDampEvidence = 2;
constexpr auto kPatience = 30s;       // a few rounds must agree
constexpr auto kSlowPatience = 2min;  // too damp is no hurry; cold comes with an opening first
constexpr double kFullPct = 98.0;     // within two probes' error of saturated
constexpr double kSaturatedPct = 99.2;
constexpr double kSwingPct = 0.6;
constexpr auto kFullFor = 30min;
constexpr auto kFullAfterVisit = 60min;  // a spray has dried by then
constexpr int kUsualStays = 3;           // times as long as it usually stays in the upper half
constexpr double kDoubtOfFew = 0.4;  // of the usual swing: one place swings further than the mean
constexpr auto kFlutter = 3min;      // outside again so soon is the same spell

Drift drift_towards(Trouble trouble) {
  const bool slow = trouble == Trouble::damp || trouble == Trouble::cold;
  return Drift(slow ? kSlowPatience : kPatience, trouble == Trouble::dry ? kDryHaste : kOtherHaste,
               trouble == Trouble::dry    ? kDryEvidence
               : trouble == Trouble::damp ? kDampEvidence
                                          : kWarmthEvidence);
}

Trouble trouble_of(AirQuantity quantity, bool below) {
  if (quantity == AirQuantity::temperature) return below ? Trouble::cold : Trouble::hot;
  const bool dry = (quantity == AirQuantity::humidity) == below;
  return dry ? Trouble::dry : Trouble::damp;
}

/// A step of its own size, for how far out is far.
double step(AirQuantity quantity) {
  switch (quantity) {
    case AirQuantity::temperature:
      return 0.3;
    case AirQuantity::humidity:
      return 1.0;
    default:
      return 30;
  }
}

const char* unit(AirQuantity quantity) {
  if (quantity == AirQuantity::temperature) return "degC";
  return quantity == AirQuantity::humidity ? "%" : "Pa";
}

/// The end of every sentence of the air: why, what first, who suffers.
std::string told(std::string text, Cause cause, const Look& look) {
  text += ". " + advice(cause);
  if (!look.at_risk.empty()) text += " At risk: " + look.at_risk + ".";
  return text;
}

/// How much further than before a spell of the ordinary cycle may go.
double leeway(AirQuantity quantity) {
  switch (quantity) {
    case AirQuantity::temperature:
      return 0.2;
    case AirQuantity::humidity:
      return 0.7;
    default:
      return 20;
  }
}

/// A cycle would have come down long before it is said; air that hardly cycles has to be above it.
bool stays_up(const Usual& usual, double level, bool already) {
  const double swing = usual.high() - usual.low();
  if (swing < kSwingPct) return level > usual.above();
  return level > (already ? usual.high() - swing / 2 : usual.high() - swing / 4);
}

}  // namespace

QuantityWatch::QuantityWatch(const char* about, AirQuantity quantity,
                             std::chrono::milliseconds on_delay, std::chrono::milliseconds horizon)
    : about_(about),
      quantity_(quantity),
      horizon_(horizon),
      excursion_(on_delay),
      low_{true, drift_towards(trouble_of(quantity, true)), std::nullopt, {}},
      high_{false, drift_towards(trouble_of(quantity, false)), std::nullopt, {}} {}

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
  return trouble_of(quantity_, below);
}

void QuantityWatch::see(Instant at, const Look& look, const AirTrends& air, WarningList& warnings,
                        std::vector<Event>& events) {
  note_spell(at, look, air);
  judge_outside(at, look, air, warnings, events);
  judge_drift(low_, at, look, air, warnings, events);
  judge_drift(high_, at, look, air, warnings, events);
  judge_full(at, look, air, warnings, events);
  if (cycling_.number && at - cycling_.last_spell > kCycleOver) {
    warnings.clear(cycling_.number, at, look.value + ", no longer to and fro over the limit",
                   events);
  }
}

/// Where 100 % is allowed nothing can be too damp, but a humidifier that does not stop any more
/// still fills the cut with water: it shows in air that stays full and beyond its usual marks.
void QuantityWatch::judge_full(Instant at, const Look& look, const AirTrends& air,
                               WarningList& warnings, std::vector<Event>& events) {
  if (quantity_ != AirQuantity::humidity) return;
  const auto& motion = air.motion(quantity_);
  const auto& usual = air.usual(quantity_);
  const bool full = motion && usual.knows() && look.low && !look.high && !look.disputed &&
                    !air.are_fewer() && !air.are_apart(quantity_) && motion->level > kFullPct &&
                    stays_up(usual, motion->level, full_since_.has_value());
  if (!full) {
    full_since_.reset();
    warnings.clear(full_, at, look.value + ", no longer full of water", events);
    return;
  }
  if (!full_since_) {
    full_since_ = at;
    fullest_ = 0;
  }
  fullest_ = std::max(fullest_, motion->level);
  const auto patience = std::max<std::chrono::milliseconds>(
      look.hasty_since ? kFullAfterVisit : kFullFor, kUsualStays * usual.longest_above());
  if (full_ || fullest_ < kSaturatedPct || at - *full_since_ < patience) return;
  Warning warning;
  warning.kind = WarningKind::drift;
  warning.about = about_;
  warning.cause = Cause::saturated;
  warning.grade = Grade::mild;
  warning.text =
      told(look.value + ", full of water and above its usual for " + worded(at - *full_since_),
           warning.cause, look);
  full_ = warnings.raise(std::move(warning), at, events);
}

void QuantityWatch::note_spell(Instant at, const Look& look, const AirTrends& air) {
  const auto& motion = air.motion(quantity_);
  const bool out = look.place == Place::below || look.place == Place::above;
  if (!out) {
    if (!spell_) return;
    spell_->to = at;
    if (!spell_->aftermath && !look.disputed) keep_spell(*spell_);
    spell_.reset();
    return;
  }
  if (!motion) return;
  const bool below = look.place == Place::below;
  if (!spell_) spell_ = Spell{below, at, at, motion->level, look.hasty_since.has_value(), false};
  spell_->furthest =
      below ? std::min(spell_->furthest, motion->level) : std::max(spell_->furthest, motion->level);
  spell_->aftermath = spell_->aftermath || look.hasty_since.has_value();
}

void QuantityWatch::keep_spell(const Spell& spell) {
  auto& spells = side(spell.below).spells;
  if (spells.empty() || spell.from - spells.back().to > kFlutter) {
    spells.push_back(spell);
    return;
  }
  auto& last = spells.back();
  last.to = spell.to;
  last.told = last.told || spell.told;
  last.furthest = spell.below ? std::min(last.furthest, spell.furthest)
                              : std::max(last.furthest, spell.furthest);
}

/// One probe alone out of the band, and further from the others than ever: wait for the verdict on
/// it. Suspect probes are worth a warning, but cannot take it back.
Place QuantityWatch::weighed(Instant at, const Look& look, const AirTrends& air) {
  const bool out = look.place == Place::below || look.place == Place::above;
  if (look.disputed) return out ? look.place : Place::unknown;
  const auto& motion = air.motion(quantity_);
  const auto limit = look.place == Place::below ? look.low : look.high;
  const bool pending = out && motion && limit && air.are_apart(quantity_) &&
                       motion->least < *limit && motion->most > *limit;
  if (!pending) {
    pending_since_.reset();
    return look.place;
  }
  if (!pending_since_) pending_since_ = at;
  return at - *pending_since_ < kMostPending ? Place::unknown : look.place;
}

void QuantityWatch::judge_outside(Instant at, const Look& look, const AirTrends& air,
                                  WarningList& warnings, std::vector<Event>& events) {
  const auto verdict = excursion_.see(at, weighed(at, look, air));
  if (verdict == Excursion::Verdict::cleared) {
    hushed_ = false;
    low_.drift.end(at);
    high_.drift.end(at);
    warnings.clear(number_, at,
                   look.place == Place::free
                       ? std::string(about_) + ": nothing is asked for any more"
                       : look.value + ", right again",
                   events);
    return;
  }
  if (number_) warnings.regrade(*number_, grade_of(depth(at, look, air)));
  if (hushed_ && spell_) cycling_.last_spell = at;
  const bool raised = verdict == Excursion::Verdict::raised;
  const bool too_much = hushed_ && spell_ && excursion_.standing() && !crosses_by_cycle(at, air);
  if (raised || too_much) raise_outside(at, look, air, warnings, events);
}

/// What to set, for a cycle that crosses its limit: as far as it went out, and a step for safety.
std::string QuantityWatch::cycle_hint(const Look& look) const {
  const auto limit = spell_->below ? look.low : look.high;
  if (!limit) return "";
  double furthest = spell_->furthest;
  for (const auto& spell : spell_->below ? low_.spells : high_.spells) {
    furthest =
        spell.below ? std::min(furthest, spell.furthest) : std::max(furthest, spell.furthest);
  }
  const double by = std::abs(*limit - furthest) + step(quantity_) / 2;
  return fmt::format(", again and again. Set it {:.1f} {} {}, or narrow its switching", by,
                     unit(quantity_), spell_->below ? "higher" : "lower");
}

Depth QuantityWatch::depth(Instant at, const Look& look, const AirTrends& air) const {
  Depth depth;
  depth.healing = look.healing;
  depth.lasting = at - excursion_.since().value_or(at);
  const auto& motion = air.motion(quantity_);
  if (!motion) return depth;
  if (look.low) depth.steps = (*look.low - motion->level) / step(quantity_);
  if (look.high) {
    depth.steps = std::max(depth.steps, (motion->level - *look.high) / step(quantity_));
  }
  return depth;
}

bool QuantityWatch::crosses_by_cycle(Instant at, const AirTrends& air) const {
  if (!spell_ || spell_->aftermath) return false;
  const auto& usual = air.usual(quantity_);
  const double more = leeway(quantity_);
  const bool ordinary = !usual.knows() || (spell_->furthest >= usual.below() - more &&
                                           spell_->furthest <= usual.above() + more);
  if (!ordinary) return false;
  const Side& out = spell_->below ? low_ : high_;
  const auto& spells = out.spells;
  if (out.number) return false;
  int count = 0;
  double furthest = 0;
  std::chrono::milliseconds longest{0};
  for (const auto& spell : spells) {
    if (at - spell.to > kSpellsWithin) continue;
    const bool further = spell.below ? spell.furthest < furthest : spell.furthest > furthest;
    if (count == 0 || further) furthest = spell.furthest;
    longest = std::max(longest, spell.to - spell.from);
    count += spell.told ? 2 : 1;
  }
  if (count < kSpellsMakeCycle) return false;
  const double beyond = spell_->below ? furthest - spell_->furthest : spell_->furthest - furthest;
  const auto most = std::max<std::chrono::milliseconds>(kLongSpell, 2 * longest);
  return beyond < leeway(quantity_) && at - spell_->from < most;
}

void QuantityWatch::raise_outside(Instant at, const Look& look, const AirTrends& air,
                                  WarningList& warnings, std::vector<Event>& events) {
  const bool below = excursion_.side() == Place::below;
  Side& out = side(below);
  while (!out.spells.empty() && at - out.spells.front().to > kSpellsWithin) out.spells.pop_front();
  const bool by_cycle = crosses_by_cycle(at, air);
  hushed_ = by_cycle;
  if (by_cycle) cycling_.last_spell = at;
  if (spell_) spell_->told = true;
  if (by_cycle && cycling_.number) return;
  Warning warning;
  warning.about = about_;
  warning.below = below;
  warning.cause = by_cycle ? Cause::cycling : cause_of(trouble(below), air);
  warning.grade = grade_of(depth(at, look, air));
  std::string text = look.value + ", " + (below ? "too low for " : "too high for ") +
                     worded(at - excursion_.since().value_or(at));
  if (by_cycle) text += cycle_hint(look);
  warning.text = told(std::move(text), warning.cause, look);
  if (out.number) warning.follows = out.number;
  auto& number = by_cycle ? cycling_.number : number_;
  number = warnings.raise(std::move(warning), at, events);
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
  found.outlook = outlook(*motion, air.path(quantity_), *limit, below, horizon_);
  if (air.are_fewer()) {
    const double more = kDoubtOfFew * (usual.high() - usual.low());
    found.unusual =
        below ? motion->most < usual.below() - more : motion->least > usual.above() + more;
  }
  found.hasty_since = look.hasty_since;
  found.recovering = look.recovering && trouble(below) != Trouble::dry;
  return found;
}

void QuantityWatch::judge_drift(Side& side, Instant at, const Look& look, const AirTrends& air,
                                WarningList& warnings, std::vector<Event>& events) {
  if (excursion_.standing()) return;
  switch (side.drift.see(at, prospect(side.below, look, air))) {
    case Drift::Verdict::nothing:
      if (side.number) regrade_drift(side, at, look, air, warnings);
      return;
    case Drift::Verdict::raised:
      raise_drift(side, at, look, air, warnings, events);
      return;
    case Drift::Verdict::cleared:
      warnings.clear(side.number, at, look.value + ", no longer on its way out", events);
      return;
  }
}

/// It comes nearer; and after a restart the log does not tell how grave it was.
void QuantityWatch::regrade_drift(const Side& side, Instant at, const Look& look,
                                  const AirTrends& air, WarningList& warnings) const {
  const auto ahead = prospect(side.below, look, air).outlook;
  if (!ahead || ahead->until <= 0s) return;
  auto depth_ahead = depth(at, look, air);
  depth_ahead.until = ahead->until;
  warnings.regrade(*side.number, grade_of(depth_ahead));
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
  auto depth_ahead = depth(at, look, air);
  depth_ahead.until = ahead->until;
  warning.grade = grade_of(depth_ahead);
  const double pace = 60 * std::abs(air.motion(quantity_)->slope);
  warning.text = told(fmt::format("{}, {} by {:.2g} {} a minute, too {} in about {}", look.value,
                                  side.below ? "falling" : "rising", pace, unit(quantity_),
                                  side.below ? "low" : "high", worded(ahead->until)),
                      cause, look);
  side.number = warnings.raise(std::move(warning), at, events);
}

}  // namespace takehold::daemon
