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

struct ReplayFiles {
  std::filesystem::path trace;
  std::filesystem::path kept_log;  ///< a new file for the replay's log; empty: it is not kept
};

/// Feeds a recorded table through watch and log with the table's clock, one JSON object an event.
/// The real log is left alone. Throws Refused for a bad row, with its line, and "file-exists" when
/// `kept_log` is there already.
int run_replay(const Settings& settings, const ReplayFiles& files, std::ostream& out);

/// Sends a made-up warning to each notifier. 1 if one failed.
int run_try_notify(const Settings& settings, std::ostream& out);

}  // namespace takehold::daemon
