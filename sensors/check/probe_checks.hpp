// All probes held against their own history and against each other: which of them can be trusted.
//
// Feed it every round of readings, judged by judge() before; it hands them back with the suspect
// ones marked, and keeps what stands against each probe. No clock: the readings' own times. One
// owner, one thread.
#pragma once

#include <map>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "sensors/check/probe_fault.hpp"
#include "sensors/check/probe_pair.hpp"
#include "sensors/check/probe_record.hpp"
#include "sensors/quantity/reading.hpp"

namespace takehold::sensors {

class ProbeChecks {
 public:
  explicit ProbeChecks(const std::vector<CheckedProbe>& probes, DisagreeLimits limits = {});

  /// The same readings, those of a probe with a finding made suspect (bad and none stay what they
  /// are). Readings of unknown probes pass untouched. A reading older than its probe's newest is
  /// judged by what stands, and changes nothing.
  std::vector<Reading> see(std::span<const Reading> readings);

  /// What stands against a probe; none: nothing, or there is no such probe. Several faults: the
  /// first in the order of ProbeFault, for a leaping probe disagrees as well.
  /// Two that disagree without a third are both found; with a third the odd one out.
  const std::optional<Finding>& finding(const std::string& probe) const;

 private:
  struct Checked {
    ProbeRecord record;
    std::optional<Finding> finding;
    long changes_when_found = 0;
    std::vector<std::size_t> peers;  ///< of the same place
  };
  using Indices = std::vector<std::size_t>;

  void judge_alone(std::size_t index, Instant now);
  std::optional<Finding> own_fault(const Checked& checked, std::size_t index, Instant now) const;
  bool still_holds(const Checked& checked, Instant now) const;
  std::vector<const ProbeRecord*> trusted_peers(const Checked& checked, Instant now) const;
  void judge_together(const std::string& place, Instant now);
  void disagreement_of(std::size_t index, Instant now);
  ProbePair& pair(std::size_t a, std::size_t b);
  const ProbePair* find_pair(std::size_t a, std::size_t b) const;

  std::vector<Checked> probes_;
  std::map<std::string, std::size_t> index_;
  std::map<std::string, Indices> places_;
  std::map<std::pair<std::size_t, std::size_t>, ProbePair> pairs_;  ///< first < second
  DisagreeLimits limits_;
};

}  // namespace takehold::sensors
