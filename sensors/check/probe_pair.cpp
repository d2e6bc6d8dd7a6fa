#include "sensors/check/probe_pair.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "sensors/air/psychrometrics.hpp"

namespace takehold::sensors {
namespace {

using std::chrono::milliseconds;
using std::chrono::minutes;
using std::chrono::seconds;

constexpr auto kCalmWindow = minutes(5);
constexpr auto kAnyWindow = minutes(15);
constexpr int kCalmPolls = 4;
constexpr int kAnyPolls = 8;
constexpr auto kSpacing = seconds(10);
// Probes lag by half a minute to two; three minutes after a change they tell the same again.
constexpr auto kCalmFor = minutes(3);
constexpr double kCalmKelvin = 1.0;
constexpr double kCalmPoints = 6.0;
constexpr auto kRepeating = minutes(2);
constexpr int kRepeats = 5;
constexpr double kLeewayOfMove = 0.15;
constexpr double kBack = 0.7;  // of the limit, to be believed again
constexpr double kOneSided = 0.9;
constexpr double kUsualOverS = 7200.0;

milliseconds window(milliseconds least, int polls, milliseconds every) {
  return std::max<milliseconds>(least, polls * every);
}

bool is_calm(const ProbeRecord& record, Instant now) {
  const auto from = now - kCalmFor;
  const auto warmth = record.temperature().spread(from, now);
  const auto moisture = record.humidity().spread(from, now);
  return (!warmth || warmth->size() <= kCalmKelvin) &&
         (!moisture || moisture->size() <= kCalmPoints);
}

bool may_be_stuck(const ProbeRecord& record, Instant now) {
  return record.unchanged_readings() >= kRepeats && now - record.unchanged_since() >= kRepeating;
}

bool is_fresh(const ProbeRecord& record, Instant now) {
  const auto at = record.newest_at();
  return at && now - *at <= std::max<milliseconds>(2 * record.probe().every, seconds(20));
}

/// How far both went to and fro. After an opening two places recover apart, each in its own time.
double moved_together(const ProbeRecord& a, const ProbeRecord& b, Instant now) {
  const auto here = a.humidity().spread(now - kAnyWindow, now);
  const auto there = b.humidity().spread(now - kAnyWindow, now);
  return here && there ? std::min(here->size(), there->size()) : 0.0;
}

/// Of two differences of one sign the smaller, else none at all.
double common(double a, double b) {
  if ((a > 0) != (b > 0)) return 0.0;
  return std::abs(a) < std::abs(b) ? a : b;
}

/// How far a's humidity is above b's, by both ways of looking at it.
std::optional<double> points_between(const ProbeRecord& a, const ProbeRecord& b) {
  const auto here = a.humidity().newest();
  const auto there = b.humidity().newest();
  if (!here || !there || a.pinned_since() || b.pinned_since()) return std::nullopt;
  const double told = *here - *there;
  const auto warmth_here = a.temperature().newest();
  const auto warmth_there = b.temperature().newest();
  if (!warmth_here || !warmth_there) return told;
  const auto water = vapour_pressure(Celsius::degc(*warmth_there), RelativeHumidity::pct(*there));
  const double same_water = relative_humidity(Celsius::degc(*warmth_here), water).pct();
  return common(told, *here - same_water);
}

}  // namespace

void ProbePair::forget() {
  samples_.clear();
  disagrees_ = false;
}

void ProbePair::compare(const ProbeRecord& a, const ProbeRecord& b) {
  if (!a.newest_at() || !b.newest_at()) return;
  const Instant now = std::max(*a.newest_at(), *b.newest_at());
  slower_ = std::max(a.probe().every, b.probe().every);
  const auto kept = window(kAnyWindow, kAnyPolls, slower_);
  while (!samples_.empty() && samples_.front().at < now - kept) samples_.pop_front();
  const bool crowded = !samples_.empty() && now - samples_.back().at < kSpacing;
  if (!crowded && is_fresh(a, now) && is_fresh(b, now) && !may_be_stuck(a, now) &&
      !may_be_stuck(b, now)) {
    Sample sample{now,
                  {},
                  points_between(a, b),
                  is_calm(a, now) && is_calm(b, now),
                  moved_together(a, b, now)};
    const auto warmth_a = a.temperature().newest();
    const auto warmth_b = b.temperature().newest();
    if (warmth_a && warmth_b) sample.kelvin = *warmth_a - *warmth_b;
    if (sample.points && sample.calm) learn(now, *sample.points);
    samples_.push_back(sample);
  }
  judge(now);
}

void ProbePair::learn(Instant at, double points) {
  const double past_s = learnt_at_ ? std::chrono::duration<double>(at - *learnt_at_).count() : 0.0;
  const double share = usual_ ? std::min(0.5, past_s / kUsualOverS) : 1.0;
  usual_ = usual_.value_or(0.0) + share * (points - usual_.value_or(0.0));
  learnt_at_ = at;
}

void ProbePair::judge(Instant now) {
  const auto calm_from = now - window(kCalmWindow, kCalmPolls, slower_);
  const auto any_from = now - window(kAnyWindow, kAnyPolls, slower_);
  if (!disagrees_) {
    disagrees_ = apart(calm_from, true) || apart(any_from, false);
    return;
  }
  if (samples_.empty()) {
    disagrees_ = false;
    return;
  }
  const auto near = [&](std::optional<double> Sample::*value, double limit) {
    const auto now_is = mean(value, limit, calm_from, false);
    return !now_is || std::abs(now_is->value) < kBack * limit;
  };
  disagrees_ = !near(&Sample::kelvin, limits_.temperature.kelvin()) ||
               !near(&Sample::points, limits_.humidity.pct());
}

bool ProbePair::apart(Instant from, bool calm_only) const {
  const auto far = [&](std::optional<double> Sample::*value, double limit) {
    const auto found = mean(value, limit, from, calm_only);
    return found && found->one_sided && std::abs(found->value) >= limit;
  };
  double moved = 0.0;
  for (const auto& sample : samples_) {
    if (sample.at >= from && !calm_only) moved = std::max(moved, sample.moved);
  }
  return far(&Sample::kelvin, limits_.temperature.kelvin()) ||
         far(&Sample::points, limits_.humidity.pct() + kLeewayOfMove * moved);
}

std::optional<ProbePair::Mean> ProbePair::mean(std::optional<double> Sample::*value, double limit,
                                               Instant from, bool calm_only) const {
  double total = 0.0;
  int count = 0, above = 0, below = 0;
  std::optional<Instant> oldest;
  for (auto sample = samples_.rbegin(); sample != samples_.rend() && sample->at >= from; ++sample) {
    if (calm_only && !sample->calm) return std::nullopt;
    const auto& known = (*sample).*value;
    if (!known) continue;
    total += *known;
    ++count;
    above += *known >= limit / 2;
    below += *known <= -limit / 2;
    oldest = sample->at;
  }
  // Not before the window is filled, but for its first poll.
  if (count < kCalmPolls || *oldest > from + std::max<milliseconds>(slower_, kSpacing) * 3 / 2) {
    return std::nullopt;
  }
  return Mean{total / count, std::max(above, below) >= kOneSided * count};
}

std::string ProbePair::difference() const {
  if (samples_.empty()) return "";
  const auto from = samples_.back().at - window(kCalmWindow, kCalmPolls, slower_);
  const double kelvin_limit = limits_.temperature.kelvin();
  const auto kelvin = mean(&Sample::kelvin, kelvin_limit, from, false);
  const auto points = mean(&Sample::points, limits_.humidity.pct(), from, false);
  const double warmth = kelvin ? std::abs(kelvin->value) : 0.0;
  const double moisture = points ? std::abs(points->value) : 0.0;
  char text[40];
  if (warmth / kelvin_limit >= moisture / limits_.humidity.pct()) {
    std::snprintf(text, sizeof text, "%.1f degC", warmth);
  } else {
    std::snprintf(text, sizeof text, "%.1f %%", moisture);
  }
  return text;
}

}  // namespace takehold::sensors
