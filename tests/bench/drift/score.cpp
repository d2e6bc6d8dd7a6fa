#include "score.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "daemon/watch/chamber.hpp"
#include "sensors/check/judge.hpp"

namespace takehold::bench {

namespace {

using daemon::Cause;
using daemon::EventType;
using daemon::WarningKind;
using sensors::Celsius;
using sensors::RelativeHumidity;

constexpr int kHorizon = 30 * 60;
constexpr int kGrace = 120;  // after the breach
constexpr int kSlow = 5 * 60;
constexpr int kMostAfter = 3;  // events after a failure

const sensors::Instant kStart = *sensors::parse_instant("2027-04-12T00:00:00Z");

daemon::Regime regime_of(const Asked& asked) {
  daemon::Stage stage;
  stage.name = "closed";
  stage.length = std::chrono::hours(240);
  const daemon::Band<Celsius> warm{Celsius::degc(asked.degc.from), Celsius::degc(asked.degc.to)};
  const daemon::Band<RelativeHumidity> wet{RelativeHumidity::pct(asked.pct.from),
                                           RelativeHumidity::pct(asked.pct.to)};
  stage.temperature = daemon::Ramp<Celsius>{warm, warm};
  stage.humidity = daemon::Ramp<RelativeHumidity>{wet, wet};
  return {"trial", "", {}, {stage}};
}

bool right_cause(Failure failure, Cause cause) {
  switch (failure) {
    case Failure::water_out:
      return cause == Cause::drying;
    case Failure::door_ajar:
      return cause == Cause::opened;
    case Failure::slow_leak:
      return cause == Cause::drying || cause == Cause::opened;
    case Failure::heater_dead:
      return cause == Cause::cooling;
    case Failure::heater_stuck:
      return cause == Cause::warming;
    case Failure::humidifier_stuck:
      return cause == Cause::saturated;
    case Failure::silent:
      return cause == Cause::silent;
    case Failure::stuck:
      return cause == Cause::stuck;
    case Failure::wet:
      return cause == Cause::wet;
    case Failure::jumping:
      return cause == Cause::jumping;
    case Failure::disagrees:
      return cause == Cause::disagrees;
    case Failure::none:
      return false;
  }
  return false;
}

bool out(const Trial& trial, const Spot& air) {
  const auto& asked = trial.asked;
  return air.degc < asked.degc.from || air.degc > asked.degc.to || air.pct < asked.pct.from ||
         air.pct > asked.pct.to;
}

/// The air, true or as sound probes told it, was out for about the on-delay just before.
bool rightly_outside(const Trial& trial, int second) {
  int truly = 0, told = 0;
  for (const Round& round : trial.rounds) {
    if (round.second < second - 240 || round.second > second) continue;
    Spot mean{0, 0};
    int voices = 0;
    for (int i = 0; i < 2; ++i) {
      if (is_of_probe(trial.failure) && round.second >= trial.onset && i == trial.probe) continue;
      mean.degc += round.said[i].degc;
      mean.pct += round.said[i].pct;
      ++voices;
    }
    mean = {mean.degc / voices, mean.pct / voices};
    bool worse = false;  // two that disagree: the worse counts
    for (const Spot& said : round.said) worse = worse || out(trial, said);
    const bool both = trial.failure == Failure::disagrees && round.second >= trial.onset;
    truly += out(trial, round.truth);
    told += both ? worse : out(trial, mean);
  }
  return std::max(truly, told) * kEvery >= 50;
}

std::string remark(const Trial& trial, const std::string& what) {
  return std::string(to_string(trial.maker)) + ", " + trial.asked.name + ", " +
         to_string(trial.failure) + " @" + std::to_string(trial.onset) + ": " + what;
}

std::string told(const Said& said) {
  const auto& warning = *said.event.warning;
  return std::string(daemon::to_string(warning.kind)) + "/" + daemon::to_string(warning.cause) +
         " about " + warning.about + " @" + std::to_string(said.second) + " " + said.event.text;
}

void score_air(const Trial& trial, const std::vector<Said>& warnings, Tally& tally,
               std::vector<std::string>& remarks) {
  ++tally.failures;
  const int end = trial.breach < 0 ? kLength : trial.breach + kGrace;
  const bool slow = trial.breach >= 0 && trial.breach - trial.departure > kSlow;
  tally.slow += slow;
  const Said* first = nullptr;
  std::string others;
  for (const Said& said : warnings) {
    if (said.second < trial.onset) continue;
    others += "\n      " + told(said);
    if (said.second > end || first != nullptr) continue;
    if (right_cause(trial.failure, said.event.warning->cause)) first = &said;
  }
  const auto times =
      "departs " + std::to_string(trial.departure) + " breaches " + std::to_string(trial.breach);
  if (first == nullptr) {
    remarks.push_back(remark(trial, "MISSED " + times + others));
    if (slow) tally.in_hand.push_back(0);
    return;
  }
  ++tally.warned;
  if (trial.breach < 0) return;
  const double lead = trial.breach - first->second;
  if (slow) {
    tally.slow_before += lead > 0;
    const double whole = std::min(trial.breach - trial.departure, kHorizon);
    tally.in_hand.push_back(std::max(0.0, lead) / whole);
    if (lead <= 0) remarks.push_back(remark(trial, "LATE " + times + others));
  }
  const auto& foretold = first->event.warning->breach_at;
  if (lead > 0 && foretold) {
    const double at = double((*foretold - kStart) / std::chrono::seconds(1));
    tally.breach_error.push_back(std::abs(at - trial.breach) / lead);
  }
}

}  // namespace

void Tally::add(const Tally& other) {
  failures += other.failures;
  warned += other.warned;
  slow += other.slow;
  slow_before += other.slow_before;
  in_hand.insert(in_hand.end(), other.in_hand.begin(), other.in_hand.end());
  breach_error.insert(breach_error.end(), other.breach_error.begin(), other.breach_error.end());
  faults += other.faults;
  named += other.named;
  falses += other.falses;
  days += other.days;
}

std::vector<Said> watch(const Trial& trial, const Peek& peek) {
  const char* names[2] = {"left", "right"};
  std::vector<daemon::WatchedProbe> probes;
  for (const char* name : names) probes.push_back({name, std::chrono::seconds(kEvery)});
  daemon::Chamber chamber(daemon::WatchOptions{}, probes, kStart, 0);
  daemon::Batch batch;
  batch.label = "G1";
  batch.regime = regime_of(trial.asked);
  batch.entered_at = kStart - std::chrono::hours(1);
  chamber.put(batch, kStart);
  std::vector<Said> all;
  for (const Round& round : trial.rounds) {
    const auto at = kStart + std::chrono::seconds(round.second);
    std::vector<sensors::Reading> readings;
    for (int i = 0; i < 2; ++i) {
      if (!round.spoke[i]) continue;
      readings.push_back(sensors::judge({names[i], at, Celsius::degc(round.said[i].degc),
                                         RelativeHumidity::pct(round.said[i].pct)})
                             .reading);
    }
    for (auto& event : chamber.see(at, readings)) {
      const int second = int((event.at - kStart) / std::chrono::seconds(1));
      all.push_back({second, std::move(event)});
    }
    if (peek) peek(round.second, chamber.watch());
  }
  return all;
}

Tally score(const Trial& trial, const std::vector<Said>& said, std::vector<std::string>& remarks) {
  Tally tally;
  tally.days = kLength / 86'400.0;
  std::vector<Said> warnings;
  for (const Said& one : said) {
    if (one.event.type == EventType::warning) warnings.push_back(one);
  }
  int after = 0;
  bool named = false;
  for (const Said& one : warnings) {
    const auto& warning = *one.event.warning;
    bool wrong = false;
    const bool failed = trial.failure != Failure::none && one.second >= trial.onset;
    if (failed && (!is_of_probe(trial.failure) || warning.kind == WarningKind::probe)) {
      wrong = ++after > kMostAfter;
      named |= is_of_probe(trial.failure) && right_cause(trial.failure, warning.cause);
    } else {
      wrong = warning.kind != WarningKind::outside || !rightly_outside(trial, one.second);
    }
    tally.falses += wrong;
    if (wrong) remarks.push_back(remark(trial, "FALSE " + told(one)));
  }
  if (is_of_probe(trial.failure)) {
    tally.faults = 1;
    tally.named = named;
    if (!named) remarks.push_back(remark(trial, "NOT NAMED"));
  } else if (trial.failure != Failure::none) {
    score_air(trial, warnings, tally, remarks);
  }
  return tally;
}

double median(std::vector<double> values) {
  if (values.empty()) return std::numeric_limits<double>::quiet_NaN();
  std::sort(values.begin(), values.end());
  const auto n = values.size();
  return (values[(n - 1) / 2] + values[n / 2]) / 2;
}

}  // namespace takehold::bench
