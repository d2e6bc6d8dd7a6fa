#include "sensors/check/self_verdicts.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace takehold::sensors {
namespace {

using std::chrono::hours;
using std::chrono::milliseconds;
using std::chrono::minutes;
using std::chrono::seconds;

// How far a peer must have moved before a probe that did not is called stuck. Both values repeated
// together are stronger evidence than one, which may lie sheltered from a heater or a mist.
struct LeastMove {
  double kelvin, points;          // of a probe that tells finely
  double steps;                   // and in steps of a coarse one
  double kelvin_new, points_new;  // of one that has not changed yet: it may be a coarse one
};
constexpr LeastMove kBothStill{0.4, 1.0, 2.5, 1.5, 2.5};
constexpr LeastMove kOneStill{1.2, 4.0, 4.0, 3.0, 8.0};
constexpr auto kShortestStill = minutes(6);
constexpr auto kLongestStill = minutes(30);  // is enough even for one that is often still
constexpr auto kOneStillFor = minutes(30);
constexpr auto kStillAlone = hours(12);
constexpr int kStillReadings = 6;

constexpr auto kLeapsWithin = minutes(30);
constexpr auto kTurnsWithin = minutes(10);
constexpr auto kPeersFollowWithin = seconds(60);
constexpr double kPeersShare = 1.0 / 3.0;  // of the leap: another place in the air, a slower cap
constexpr int kLeaps = 3;

constexpr auto kPinned = minutes(10);
constexpr auto kPinnedFarAbove = minutes(5);
constexpr auto kPinnedByTurns = minutes(30);
constexpr auto kPeerFollows = minutes(2);  // a slower peer may still be on its way
constexpr double kClearlyBelow = 98.5;     // where this probe should then be seen below 100
constexpr double kFarBelow = 94.0;
constexpr int kPinnedPolls = 3;

std::string for_long(milliseconds span) {
  const auto whole = std::chrono::round<minutes>(span).count();
  return whole < 120 ? std::to_string(whole) + " min" : std::to_string(whole / 60) + " h";
}

double needed(const ValueHistory& own, double fine, double unknown, double steps) {
  return own.finest_step() ? std::max(fine, steps * *own.finest_step()) : unknown;
}

/// The peer that moved by `least` in [from, now], if any.
const ProbeRecord* mover(Peers peers, const ValueHistory& (ProbeRecord::*quantity)() const,
                         double least, Instant from, Instant now) {
  for (const auto* peer : peers) {
    const auto spread = (peer->*quantity)().spread(from, now);
    if (spread && spread->size() >= least) return peer;
  }
  return nullptr;
}

const ProbeRecord* mover_of_either(const ProbeRecord& record, Peers peers, Instant from,
                                   Instant now) {
  if (record.temperature().newest()) {
    const auto least =
        needed(record.temperature(), kBothStill.kelvin, kBothStill.kelvin_new, kBothStill.steps);
    if (const auto* peer = mover(peers, &ProbeRecord::temperature, least, from, now)) return peer;
  }
  if (!record.humidity().newest() || record.pinned_since()) return nullptr;
  const auto least =
      needed(record.humidity(), kBothStill.points, kBothStill.points_new, kBothStill.steps);
  return mover(peers, &ProbeRecord::humidity, least, from, now);
}

std::string still_reason(milliseconds length, const ProbeRecord* peer, const char* what) {
  std::string text = std::string("has told ") + what + " to the last digit for " + for_long(length);
  return peer == nullptr ? text : text + ", while " + peer->probe().name + " moved";
}

/// One value alone does not change.
const ProbeRecord* mover_beside(const ValueHistory& own,
                                const ValueHistory& (ProbeRecord::*quantity)() const,
                                double least_fine, double least_new, Peers peers, Instant now) {
  const bool still = own.newest() && now - own.unchanged_since() >= kOneStillFor &&
                     own.unchanged_readings() >= 2 * kStillReadings;
  if (!still) return nullptr;
  const auto least = needed(own, least_fine, least_new, kOneStill.steps);
  return mover(peers, quantity, least, own.unchanged_since(), now);
}

/// The peer's air moved around that time, if less: it was the air and not the probe.
bool followed(const Leap& leap, const ValueHistory& peer) {
  const auto around = peer.spread(leap.at - kPeersFollowWithin, leap.at + kPeersFollowWithin);
  return around && around->size() >= kPeersShare * std::abs(leap.size);
}

int leaps_alone(const std::deque<Leap>& leaps, Peers peers,
                const ValueHistory& (ProbeRecord::*quantity)() const, Instant now) {
  int count = 0;
  for (const auto& leap : leaps) {
    if (leap.at < now - kLeapsWithin || leap.at > now - kPeersFollowWithin) continue;
    count += std::none_of(peers.begin(), peers.end(), [&](const ProbeRecord* peer) {
      return followed(leap, (peer->*quantity)());
    });
  }
  return count;
}

int turns(const std::deque<Leap>& leaps, Instant now) {
  int count = 0;
  for (std::size_t i = 1; i < leaps.size(); ++i) {
    count +=
        leaps[i - 1].at >= now - kTurnsWithin && (leaps[i].size > 0) != (leaps[i - 1].size > 0);
  }
  return count;
}

bool jumps(const ValueHistory& own, Peers peers,
           const ValueHistory& (ProbeRecord::*quantity)() const, Instant now) {
  const bool is_alone = std::none_of(peers.begin(), peers.end(), [&](const ProbeRecord* peer) {
    return (peer->*quantity)().newest().has_value();
  });
  if (is_alone) return turns(own.leaps(), now) >= kLeaps;
  return leaps_alone(own.leaps(), peers, quantity, now) >= kLeaps;
}

}  // namespace

std::optional<std::string> stuck(const ProbeRecord& record, Peers peers, Instant now) {
  if (!record.newest_at()) return std::nullopt;
  const auto length = *record.newest_at() - record.unchanged_since();
  const auto usual = std::min<milliseconds>(3 * record.longest_unchanged(), kLongestStill);
  const bool still = length >= std::max<milliseconds>(usual, kShortestStill) &&
                     record.unchanged_readings() >= kStillReadings;
  if (still) {
    const auto* peer = mover_of_either(record, peers, record.unchanged_since(), now);
    if (peer != nullptr || length >= kStillAlone) return still_reason(length, peer, "the same");
  }
  const auto& temperature = record.temperature();
  if (const auto* peer = mover_beside(temperature, &ProbeRecord::temperature, kOneStill.kelvin,
                                      kOneStill.kelvin_new, peers, now)) {
    return still_reason(now - temperature.unchanged_since(), peer, "the same temperature");
  }
  const auto& humidity = record.humidity();
  if (record.pinned_since()) return std::nullopt;
  if (const auto* peer = mover_beside(humidity, &ProbeRecord::humidity, kOneStill.points,
                                      kOneStill.points_new, peers, now)) {
    return still_reason(now - humidity.unchanged_since(), peer, "the same humidity");
  }
  return std::nullopt;
}

std::optional<std::string> jumping(const ProbeRecord& record, Peers peers, Instant now) {
  const bool warmth = jumps(record.temperature(), peers, &ProbeRecord::temperature, now);
  if (!warmth && !jumps(record.humidity(), peers, &ProbeRecord::humidity, now)) {
    return std::nullopt;
  }
  return std::string("leaps up and down in ") + (warmth ? "temperature" : "humidity") +
         " as no air does";
}

std::optional<std::string> wet(const ProbeRecord& record, const ProbeRecord& peer,
                               double usually_above, Instant now) {
  const auto since = record.pinned_since();
  if (!since) return std::nullopt;
  const auto length = now - *since;
  // A place that the humidifier fills at each of its turns stands at 100 % for as long as that.
  const auto usual = 2 * std::min<milliseconds>(record.longest_pinned(), kPinnedByTurns);
  if (length <
      std::max<milliseconds>({kPinnedFarAbove, kPinnedPolls * record.probe().every, usual})) {
    return std::nullopt;
  }
  const auto told = peer.humidity().spread(*since + kPeerFollows, now);
  if (!told) return std::nullopt;
  // The peer cycles: judged is the middle of what it told.
  const double expected = (told->low + told->high) / 2.0 + usually_above;
  const double limit = length < kPinned ? kFarBelow : kClearlyBelow;
  if (expected > limit) return std::nullopt;
  char text[120];
  std::snprintf(text, sizeof text, "has stood at 100 %% for %s, while %s tells %.1f %%",
                for_long(length).c_str(), peer.probe().name.c_str(),
                peer.humidity().newest().value_or(0.0));
  return std::string(text);
}

}  // namespace takehold::sensors
