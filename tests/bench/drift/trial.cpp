#include "trial.hpp"

#include <algorithm>
#include <cmath>

namespace takehold::bench {

namespace {

using sensors::Dice;

constexpr int kAfterwards = 40 * 60;  // an opening's or a spray's aftermath is not "usual"

/// So far from its limits, in percent, the ordinary cycle keeps: the set points lie inside.
constexpr double kRoom = 0.3;

/// A probe at one place: late, off, noisy, rounded.
struct Probe {
  double lag_degc, lag_pct, off_degc, off_pct, noise_degc, noise_pct, step_degc, step_pct;
  double degc = 0, pct = 0;
  std::optional<Spot> held{};

  static Probe drawn(Dice& dice) {
    const bool fine = dice.uniform() < 0.6;
    return {Range{8, 60}.draw(dice),
            Range{8, 60}.draw(dice),
            0.15 * dice.noise(),
            0.5 * dice.noise(),
            Range{0.005, 0.05}.draw(dice),
            Range{0.03, 0.3}.draw(dice),
            fine ? 0.01 : 0.1,
            fine ? 0.01 : 0.1};
  }
  void feel(const Spot& air, double seconds) {
    degc += (air.degc - degc) * std::min(1.0, seconds / lag_degc);
    pct += (air.pct - pct) * std::min(1.0, seconds / lag_pct);
  }
  Spot say(Dice& dice) const {
    const double t = degc + off_degc + noise_degc * dice.noise();
    const double h = pct + off_pct + noise_pct * dice.noise();
    return {std::round(t / step_degc) * step_degc,
            std::clamp(std::round(h / step_pct) * step_pct, 0.0, 100.0)};
  }
};

/// How the failing probe spoils what it says; false: it says nothing.
bool spoil(Failure failure, double minutes, double size, Probe& probe, Dice& dice, Spot& said) {
  switch (failure) {
    case Failure::silent:
      return false;
    case Failure::stuck:
      if (!probe.held) probe.held = said;
      said = *probe.held;
      break;
    case Failure::wet:
      said.pct = std::min(100.0, said.pct + (100.5 - said.pct) * std::min(1.0, minutes));
      break;
    case Failure::jumping:
      if (dice.uniform() < 0.3 + 0.5 * size) {
        said.degc += (4 + 8 * size) * (2 * dice.uniform() - 1);
        said.pct = std::clamp(said.pct + (10 + 30 * size) * (2 * dice.uniform() - 1), 0.0, 100.0);
      }
      break;
    case Failure::disagrees:
      said.pct = std::clamp(said.pct - (7 + 8 * size) * std::min(1.0, minutes / 30), 0.0, 100.0);
      break;
    default:
      break;
  }
  return true;
}

std::unique_ptr<Plant> plant_of(Maker maker, Dice& dice, const Wishes& wishes) {
  switch (maker) {
    case Maker::one_pot:
      return one_pot(dice, wishes);
    case Maker::two_layers:
      return two_layers(dice, wishes);
    case Maker::saw_teeth:
      return saw_teeth(dice, wishes);
    case Maker::fogged:
      return fogged(dice, wishes);
  }
  return nullptr;
}

bool in(const std::vector<Span>& spans, int second, int after = 0) {
  return std::any_of(spans.begin(), spans.end(), [&](const Span& span) {
    return second >= span.from && second < span.to + after;
  });
}

void draw_visits(Trial& trial, Dice& dice) {
  const bool air = trial.failure != Failure::none && !is_of_probe(trial.failure);
  const auto clear = [&](int at) {
    return !air || at < trial.onset - 60 * 60;  // the failure alone is to be judged
  };
  const int looks = 1 + int(4 * dice.uniform());
  for (int i = 0; i < looks; ++i) {
    const int at = int(dice.uniform() * kLength);
    const int lasts = int(Range{60, 180}.draw(dice));
    if (clear(at)) trial.openings.push_back({at, at + lasts});
    if (clear(at) && dice.uniform() < 0.4) trial.sprays.push_back({at, at + 10});
  }
  const int sprays = int(3 * dice.uniform());
  for (int i = 0; i < sprays; ++i) {
    const int at = int(dice.uniform() * kLength);
    if (clear(at)) trial.sprays.push_back({at, at + int(Range{4, 20}.draw(dice))});
  }
}

struct Strengths {
  double open, ajar, leak, leak_s, dries_s;
};

Doings doings_at(const Trial& trial, int second, const Strengths& strong) {
  Doings doings;
  doings.opening = in(trial.openings, second) ? strong.open : 0;
  doings.spraying = in(trial.sprays, second);
  if (trial.failure == Failure::none || second < trial.onset) return doings;
  doings.water_out = trial.failure == Failure::water_out;
  if (trial.failure == Failure::door_ajar) doings.opening = std::max(doings.opening, strong.ajar);
  if (trial.failure == Failure::slow_leak) {
    doings.leak = strong.leak * std::min(1.0, (second - trial.onset) / strong.leak_s);
  }
  doings.heater_dead = trial.failure == Failure::heater_dead;
  doings.heater_stuck = trial.failure == Failure::heater_stuck;
  doings.humidifier_stuck = trial.failure == Failure::humidifier_stuck;
  return doings;
}

/// Nearer to a limit than `room` percent (and a tenth of it in kelvin) counts as outside; where 100
/// % is allowed there is no upper limit.
bool outside(const Trial& trial, const Spot& air, double room = 0) {
  const auto& asked = trial.asked;
  return air.degc < asked.degc.from + room / 10 || air.degc > asked.degc.to - room / 10 ||
         air.pct < asked.pct.from + room || (asked.pct.to < 100 && air.pct > asked.pct.to - room);
}

/// Finds breach and departure; false: this trial is of no use.
bool judge_truth(Trial& trial) {
  Spot least{1e9, 1e9}, most{-1e9, -1e9};
  const bool air = trial.failure != Failure::none && !is_of_probe(trial.failure);
  for (const Round& round : trial.rounds) {
    if (air && round.second >= trial.onset) break;
    if (in(trial.openings, round.second, kAfterwards)) continue;
    if (in(trial.sprays, round.second, kAfterwards)) continue;
    if (outside(trial, round.truth, kRoom)) return false;
    least = {std::min(least.degc, round.truth.degc), std::min(least.pct, round.truth.pct)};
    most = {std::max(most.degc, round.truth.degc), std::max(most.pct, round.truth.pct)};
  }
  if (!air) return true;
  int out_since = -1;
  for (const Round& round : trial.rounds) {
    if (round.second < trial.onset || !outside(trial, round.truth)) {
      out_since = -1;
      continue;
    }
    if (out_since < 0) out_since = round.second;
    if (round.second - out_since < 60) continue;  // a touch is no breach
    if (round.second > kLength - 20 * 60) return false;
    trial.breach = out_since;
    const auto& asked = trial.asked;
    const auto left = [&](const Spot& spot) {
      if (round.truth.degc < asked.degc.from) return spot.degc < least.degc;
      if (round.truth.degc > asked.degc.to) return spot.degc > most.degc;
      if (round.truth.pct < asked.pct.from) return spot.pct < least.pct;
      return spot.pct > most.pct;
    };
    for (const Round& first : trial.rounds) {
      if (first.second < trial.onset || !left(first.truth)) continue;
      trial.departure = first.second;
      break;
    }
    return true;
  }
  return trial.failure == Failure::humidifier_stuck && trial.asked.pct.to >= 100;
}

Trial attempt(std::uint64_t seed, Maker maker, const Asked& asked, Failure failure) {
  Dice dice(seed);
  Trial trial{maker, asked, failure, 0, 0, {}, {}, {}, -1, -1};
  trial.onset = failure == Failure::none ? kLength : int(Range{3, 9}.draw(dice) * 3600);
  trial.probe = dice.uniform() < 0.5 ? 0 : 1;
  draw_visits(trial, dice);
  const Wishes wishes{Range{24, 26}.draw(dice), asked.set_pct.draw(dice), asked.play.draw(dice)};
  const auto plant = plant_of(maker, dice, wishes);
  const Strengths strong{Range{0.3, 1}.draw(dice), Range{0.05, 0.3}.draw(dice),
                         Range{0.4, 1}.draw(dice), Range{1, 2'400}.draw(dice), 0};
  const double size = dice.uniform();
  const double clock_h = Range{0, 24}.draw(dice);
  Probe probes[2] = {Probe::drawn(dice), Probe::drawn(dice)};
  for (int i = 0; i < 2; ++i) {
    const Spot air = plant->at(i);
    probes[i].degc = air.degc;
    probes[i].pct = air.pct;
  }
  for (int second = -kSettling; second < kLength; second += 2) {
    if (second >= 0 && second % kEvery == 0) {
      Round round{second, {}, {true, true}, {}};
      for (int i = 0; i < 2; ++i) {
        round.said[i] = probes[i].say(dice);
        if (is_of_probe(failure) && i == trial.probe && second >= trial.onset) {
          const double minutes = (second - trial.onset) / 60.0;
          round.spoke[i] = spoil(failure, minutes, size, probes[i], dice, round.said[i]);
        }
      }
      const Spot a = plant->at(0), b = plant->at(1);
      round.truth = {(a.degc + b.degc) / 2, (a.pct + b.pct) / 2};
      trial.rounds.push_back(round);
    }
    const double hour = std::fmod(clock_h + (second + kSettling) / 3600.0, 24.0);
    plant->step(2, hour, doings_at(trial, second, strong));
    for (int i = 0; i < 2; ++i) probes[i].feel(plant->at(i), 2);
  }
  return trial;
}

}  // namespace

const char* to_string(Failure failure) {
  constexpr const char* kNames[] = {
      "none",        "water out",    "door ajar",        "slow leak",
      "heater dead", "heater stuck", "humidifier stuck", "probe silent",
      "probe stuck", "probe wet",    "probe jumping",    "probe disagrees"};
  return kNames[int(failure)];
}

bool is_of_probe(Failure failure) {
  return failure >= Failure::silent;
}

const char* to_string(Maker maker) {
  constexpr const char* kNames[] = {"one pot", "two layers", "saw teeth", "fogged"};
  return kNames[int(maker)];
}

Trial make_trial(std::uint64_t seed, Maker maker, const Asked& asked, Failure failure) {
  for (std::uint64_t i = 0;; ++i) {
    auto trial = attempt(sensors::mixed(seed, 77, i), maker, asked, failure);
    if (judge_truth(trial)) return trial;
  }
}

}  // namespace takehold::bench
