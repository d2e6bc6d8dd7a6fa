// What the chamber page shows, out of what is known now and what the log remembers.
#pragma once

#include "daemon/io/keeper.hpp"
#include "daemon/log/log_reader.hpp"
#include "daemon/page/page.hpp"

namespace takehold::daemon {

/// The present state and the last twelve hours of the chamber's probes, with what the batches then
/// inside asked for at each moment.
PageContent page_content(const Keeper& keeper, LogReader& reader, sensors::Instant now,
                         const sensors::TimeZone& zone);

}  // namespace takehold::daemon
