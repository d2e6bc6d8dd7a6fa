// What a batch went through, out of the chamber log.
#pragma once

#include "daemon/api/exposure_message.hpp"
#include "daemon/log/log_reader.hpp"
#include "daemon/settings/settings.hpp"
#include "daemon/watch/batch.hpp"

namespace takehold::daemon {

/// Up to `now`, or to when it left. The air is the joint air of the chamber's probes as the watch
/// takes it: readings that are not good count for nothing.
ExposureMessage exposure_of(const Batch& batch, const Settings& settings, LogReader& reader,
                            sensors::Instant now);

}  // namespace takehold::daemon
