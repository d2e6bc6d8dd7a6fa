// The table a simulated run leaves behind.
#pragma once

#include "sensors/sim/probe_sim/options.hpp"

namespace takehold::sensors {

/// Runs the scene and writes its readings as chamberd --replay reads them: one row a probe and
/// round, from the start on; a silent probe's row has no values. The probes are left, right,
/// probe-3 ... `scene` must be checked. Throws Refused, code "cannot-write".
void write_trace(const TraceOptions& options, const SceneSettings& scene);

}  // namespace takehold::sensors
