// The things chamberd does, after its settings were read. Each returns the exit status.
#pragma once

#include <filesystem>
#include <iosfwd>
#include <string>
#include <vector>

#include "daemon/settings/settings.hpp"
#include "sensors/check/salt_calibration.hpp"
#include "sensors/check/settling.hpp"

namespace takehold::daemon {

/// Runs until SIGTERM or SIGINT: polls, logs, watches, answers.
int run_daemon(const Settings& settings);

/// A faithful copy of the chamber log, also while chamberd runs; `to` is replaced whole or not at
/// all. Throws Refused.
int run_backup(const Settings& settings, const std::filesystem::path& to, std::ostream& out);

/// Looks at all that chamberd needs (settings, probes, rights, disk, clock, the log, whether it
/// runs) and says in plain words what is right and what is not. 1 if something is not.
int run_doctor(const Settings& settings, std::ostream& out);

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

/// Holds a pattern of the user's against lines: those given, else those of `in`. 1 if one did not
/// match. Throws Refused for what is no pattern.
int run_try_pattern(const std::string& pattern, const std::vector<std::string>& lines,
                    std::istream& in, std::ostream& out);

struct CalibrateOptions {
  std::string probe;
  std::vector<std::string> salts = {"NaCl", "K2SO4"};  ///< one or two
  std::vector<sensors::SaltReading> told;              ///< read by hand instead
  std::chrono::milliseconds window = sensors::SettlingOptions{}.window;
  double still_points_per_hour = sensors::SettlingOptions{}.points_per_hour;
  bool ask_nothing = false;  ///< the jars are ready: do not wait for Enter
  sensors::Day on;           ///< today
};

/// Leads through a calibration over saturated salts and prints the line for the settings. Without
/// settings it reckons with `told` alone. Throws Refused.
int run_calibrate(const Settings* settings, const CalibrateOptions& options, std::istream& in,
                  std::ostream& out);
/// "NaCl=73.1@25": told 73.1 % over that salt at 25 degC. Throws Refused.
sensors::SaltReading told_reading(const std::string& text);

/// Sends a made-up warning to each notifier. 1 if one failed.
int run_try_notify(const Settings& settings, std::ostream& out);

}  // namespace takehold::daemon
