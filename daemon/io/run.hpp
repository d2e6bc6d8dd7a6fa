// The four things chamberd does, after its settings were read. Each returns the exit status.
#pragma once

#include <filesystem>
#include <iosfwd>

#include "daemon/settings/settings.hpp"

namespace takehold::daemon {

/// Runs until SIGTERM or SIGINT: polls, logs, watches, answers.
int run_daemon(const Settings& settings);

/// Polls each probe once, one JSON object a line. 1 if a probe gave nothing.
int run_once(const Settings& settings, std::ostream& out);

/// Feeds a recorded table through watch and log (one of its own, in memory's place a scratch file)
/// with the table's clock, one JSON object an event. Throws Refused for a bad row, with its line.
int run_replay(const Settings& settings, const std::filesystem::path& trace, std::ostream& out);

/// Sends a made-up warning to each notifier. 1 if one failed.
int run_try_notify(const Settings& settings, std::ostream& out);

}  // namespace takehold::daemon
