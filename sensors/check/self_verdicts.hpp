// Verdicts on one probe, held against what the others of its place saw meanwhile.
//
// Pure: records in, a reason for people or nothing out. `peers` are the trusted probes of the same
// place; without any, only what no air can do is held against a probe.
#pragma once

#include <optional>
#include <span>
#include <string>

#include "sensors/check/probe_record.hpp"

namespace takehold::sensors {

using Peers = std::span<const ProbeRecord* const>;

/// It repeats itself to the last digit, for minutes and far longer than it ever did, while another
/// probe moved by more than the step in which this one tells. Alone: twelve hours.
std::optional<std::string> stuck(const ProbeRecord& record, Peers peers, Instant now);

/// Three leaps within half an hour that no other probe followed. Alone: three turns, leap up and
/// leap down, within ten minutes; an opening makes one.
std::optional<std::string> jumping(const ProbeRecord& record, Peers peers, Instant now);

/// At 100 % for minutes without a break while another probe stands clearly below.
/// `usually_above`: by how many points this one is above that peer when neither is at 100 %.
std::optional<std::string> wet(const ProbeRecord& record, const ProbeRecord& peer,
                               double usually_above, Instant now);

}  // namespace takehold::sensors
