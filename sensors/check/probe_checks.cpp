// Order of work in a round: each record takes its reading; what a probe's own history tells is
// judged against the trusted others; those without such a fault are compared pair by pair.

#include "sensors/check/probe_checks.hpp"

#include <algorithm>
#include <set>

#include "sensors/check/self_verdicts.hpp"

namespace takehold::sensors {
namespace {

using std::chrono::milliseconds;
using std::chrono::minutes;
using std::chrono::seconds;

/// Each probe is held against this many neighbours on either side at most: enough for a majority,
/// and a nursery of a thousand probes stays cheap.
constexpr std::size_t kNeighbours = 4;
constexpr auto kStillWithoutLeaps = minutes(15);
constexpr long kChangesToBelieve = 3;
constexpr int kReadingsToBelieve = 6;

bool is_own_fault(const std::optional<Finding>& finding) {
  return finding && finding->fault != ProbeFault::disagrees;
}

std::string joined(const std::vector<std::string>& names) {
  std::string text;
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (i > 0) text += i + 1 == names.size() ? " and " : ", ";
    text += names[i];
  }
  return text;
}

}  // namespace

ProbeChecks::ProbeChecks(const std::vector<CheckedProbe>& probes, DisagreeLimits limits)
    : limits_(limits) {
  for (const auto& probe : probes) {
    index_[probe.name] = probes_.size();
    places_[probe.place].push_back(probes_.size());
    probes_.push_back({ProbeRecord(probe), std::nullopt, 0, {}});
  }
  for (const auto& [place, members] : places_) {
    const auto reach = std::min(kNeighbours, members.size() / 2);
    for (std::size_t i = 0; i < members.size(); ++i) {
      std::set<std::size_t> peers;
      for (std::size_t step = 1; step <= reach; ++step) {
        peers.insert(members[(i + step) % members.size()]);
        peers.insert(members[(i + members.size() - step) % members.size()]);
      }
      peers.erase(members[i]);
      probes_[members[i]].peers.assign(peers.begin(), peers.end());
    }
  }
}

const std::optional<Finding>& ProbeChecks::finding(const std::string& probe) const {
  static const std::optional<Finding> kNothing;
  const auto found = index_.find(probe);
  return found == index_.end() ? kNothing : probes_[found->second].finding;
}

std::vector<Reading> ProbeChecks::see(std::span<const Reading> readings) {
  std::vector<Reading> checked(readings.begin(), readings.end());
  std::map<std::size_t, Instant> seen;
  for (const auto& reading : checked) {
    const auto found = index_.find(reading.probe);
    if (found == index_.end()) continue;
    probes_[found->second].record.add(reading);
    seen[found->second] = reading.at;
  }
  std::map<std::string, Instant> places;
  for (const auto& [index, at] : seen) {
    judge_alone(index, at);
    auto& newest = places[probes_[index].record.probe().place];
    newest = std::max(newest, at);
  }
  for (const auto& [place, at] : places) judge_together(place, at);
  for (auto& reading : checked) {
    if (finding(reading.probe) && reading.quality == Quality::good) {
      reading.quality = Quality::suspect;
    }
  }
  return checked;
}

void ProbeChecks::judge_alone(std::size_t index, Instant now) {
  auto& checked = probes_[index];
  const bool had_own = is_own_fault(checked.finding);
  auto found = own_fault(checked, index, now);
  if (had_own && (!found || found->fault > checked.finding->fault) && still_holds(checked, now)) {
    return;
  }
  if (found && had_own && found->fault == checked.finding->fault) return;
  if (!found && !had_own) return;
  checked.finding = std::move(found);
  checked.changes_when_found = checked.record.changes();
  for (const auto peer : checked.peers) pair(index, peer).forget();
}

std::optional<Finding> ProbeChecks::own_fault(const Checked& checked, std::size_t index,
                                              Instant now) const {
  const auto& record = checked.record;
  if (record.is_out_of_range()) {
    return Finding{ProbeFault::range, now, "tells what neither air nor a probe can be", {}};
  }
  const auto peers = trusted_peers(checked, now);
  if (auto reason = jumping(record, peers, now)) {
    return Finding{ProbeFault::jumping, now, *std::move(reason), {}};
  }
  for (const auto* peer : peers) {
    const auto other = index_.at(peer->probe().name);
    const auto* between = find_pair(index, other);
    const double above = between == nullptr ? 0.0 : between->usually_above();
    if (auto reason = wet(record, *peer, index < other ? above : -above, now)) {
      return Finding{ProbeFault::wet, now, *std::move(reason), {}};
    }
  }
  if (auto reason = stuck(record, peers, now)) {
    return Finding{ProbeFault::stuck, now, *std::move(reason), {}};
  }
  return std::nullopt;
}

bool ProbeChecks::still_holds(const Checked& checked, Instant now) const {
  const auto& record = checked.record;
  switch (checked.finding->fault) {
    case ProbeFault::range:
      return !record.is_in_range_again();
    case ProbeFault::wet:
      return record.readings_below_100() < kReadingsToBelieve;
    case ProbeFault::stuck:
      return record.changes() < checked.changes_when_found + kChangesToBelieve;
    case ProbeFault::jumping: {
      const auto quiet_since = now - kStillWithoutLeaps;
      const auto leapt = [&](const std::deque<Leap>& leaps) {
        return !leaps.empty() && leaps.back().at > quiet_since;
      };
      return leapt(record.temperature().leaps()) || leapt(record.humidity().leaps());
    }
    case ProbeFault::disagrees:
      return false;
  }
  return false;
}

std::vector<const ProbeRecord*> ProbeChecks::trusted_peers(const Checked& checked,
                                                           Instant now) const {
  std::vector<const ProbeRecord*> trusted;
  for (const auto index : checked.peers) {
    const auto& peer = probes_[index];
    const auto at = peer.record.newest_at();
    const auto holds = std::max<milliseconds>(3 * peer.record.probe().every, seconds(60));
    if (at && now - *at <= holds && !is_own_fault(peer.finding)) trusted.push_back(&peer.record);
  }
  return trusted;
}

void ProbeChecks::judge_together(const std::string& place, Instant now) {
  const auto& members = places_.at(place);
  for (const auto a : members) {
    for (const auto b : probes_[a].peers) {
      if (b <= a || is_own_fault(probes_[a].finding) || is_own_fault(probes_[b].finding)) continue;
      pair(a, b).compare(probes_[a].record, probes_[b].record);
    }
  }
  for (const auto index : members) disagreement_of(index, now);
}

void ProbeChecks::disagreement_of(std::size_t index, Instant now) {
  auto& checked = probes_[index];
  if (is_own_fault(checked.finding)) return;
  std::vector<std::string> against;
  std::string by;
  for (const auto peer : checked.peers) {
    const auto* between = find_pair(index, peer);
    if (between == nullptr || !between->disagrees()) continue;
    against.push_back(probes_[peer].record.probe().name);
    if (by.empty()) by = between->difference();
  }
  // Of two both; of more the one that stands against more than half of the others still heard.
  const bool is_odd = !against.empty() && 2 * against.size() > trusted_peers(checked, now).size();
  if (!is_odd) {
    checked.finding.reset();
    return;
  }
  const auto since = checked.finding ? checked.finding->since : now;
  checked.finding =
      Finding{ProbeFault::disagrees, since,
              "differs from " + joined(against) + (by.empty() ? "" : " by " + by), against};
}

ProbePair& ProbeChecks::pair(std::size_t a, std::size_t b) {
  return pairs_.try_emplace({std::min(a, b), std::max(a, b)}, limits_).first->second;
}

const ProbePair* ProbeChecks::find_pair(std::size_t a, std::size_t b) const {
  const auto found = pairs_.find({std::min(a, b), std::max(a, b)});
  return found == pairs_.end() ? nullptr : &found->second;
}

}  // namespace takehold::sensors
